package org.meniscus.visit.web;

import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.List;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.visit.Advice;
import org.meniscus.visit.AdviceFormatter;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.PhotoProcessor;
import org.meniscus.visit.PlannedWorkService;
import org.meniscus.visit.VisitConflict;
import org.meniscus.visit.VisitEntryService;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.units.UnitSystem;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** At the pool: readings, the plan, what went in. The whole form is answered each time, so nothing that was typed is lost. */
@Controller
@StaffOnly
@RequestMapping("/visit")
class VisitEntryController {

	/** A phone's clock further off than this is put right by the server's. */
	private static final Duration MAX_CLOCK_OFFSET = Duration.ofMinutes(10);

	private final VisitEntryService entry;

	private final PhotoProcessor photoProcessor;

	private final PlannedWorkService plannedWork;

	private final MessageSourceTexts texts;

	private final UuidGenerator ids;

	private final Clock clock;

	VisitEntryController(VisitEntryService poolside, PhotoProcessor intake, PlannedWorkService work, MessageSourceTexts texts,
			UuidGenerator ids, Clock clock) {
		this.entry = poolside;
		this.photoProcessor = intake;
		this.plannedWork = work;
		this.texts = texts;
		this.ids = ids;
		this.clock = clock;
	}

	@GetMapping
	String open(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID pool, @RequestParam(required = false) @Nullable UUID stop,
			Model model) {
		VisitEntryService.VisitContext context = entry.context(me, new PoolId(pool), stop);
		show(me, context, SubmittedForm.empty(), List.of(), model);
		return "visit/visit";
	}

	/** The form as typed, unchecked: a draft that the phone had kept, or one more line for a product. */
	@PostMapping("/form")
	String form(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID pool, @RequestParam(required = false) @Nullable UUID stop,
			@RequestParam(required = false) @Nullable String more, @RequestParam MultiValueMap<String, String> values,
			@RequestHeader(name = "HX-Request", required = false) @Nullable String exchange, Model model) {
		VisitEntryService.VisitContext context = entry.context(me, new PoolId(pool), stop);
		SubmittedForm submitted = new SubmittedForm(values);
		if (more != null) {
			submitted = submitted.withBlankDose();
		}
		show(me, context, submitted, List.of(), model);
		return view(exchange);
	}

	@PostMapping("/plan")
	String plan(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID pool, @RequestParam(required = false) @Nullable UUID stop,
			@RequestParam MultiValueMap<String, String> values,
			@RequestHeader(name = "HX-Request", required = false) @Nullable String exchange, Model model) {
		VisitEntryService.VisitContext context = entry.context(me, new PoolId(pool), stop);
		SubmittedForm submitted = new SubmittedForm(values);
		VisitFormParser reading = parser(context, submitted);
		Readings readings = reading.readings();
		Situation situation = reading.situation();
		reading.addFindings(entry.check(context, readings, situation));
		if (!reading.hasProblems()) {
			Double swim = reading.swimWithinHours();
			UnitSystem units = context.company().units();
			Advice advice = new AdviceFormatter(units, texts.locale().getLanguage(), context.pool().facts().targets(), texts,
					me.isOwner() ? context.company().currency() : null)
				.format(entry.plan(context, readings, situation, swim), situation, AdviceFormatter.basis(readings, situation, swim),
						LocalDateTime.ofInstant(clock.instant(), context.company().zone()));
			submitted = submitted.with("advice", advice.toJson())
				.withDoses(PlannedDoses.merge(advice, submitted.doses(), context.products(), units));
			model.addAttribute("planned", true);
		}
		else {
			// one worked out from other readings is not to be followed
			submitted = submitted.with("advice", "");
		}
		show(me, context, submitted, reading.problems(), model);
		return view(exchange);
	}

	@PostMapping
	@Nullable
	String submit(@AuthenticationPrincipal SignedInUser me, @RequestParam UUID pool, @RequestParam(required = false) @Nullable UUID stop,
			@RequestParam MultiValueMap<String, String> values, @RequestParam(required = false) @Nullable List<MultipartFile> photos,
			@RequestHeader(name = "HX-Request", required = false) @Nullable String exchange, Model model, HttpServletRequest request,
			HttpServletResponse response) throws IOException {
		PoolId at = new PoolId(pool);
		VisitEntryService.VisitContext context = entry.context(me, at, stop);
		SubmittedForm submitted = new SubmittedForm(values);
		VisitFormParser reading = parser(context, submitted);
		Readings readings = reading.readings();
		Situation situation = reading.situation();
		reading.addFindings(entry.check(context, readings, situation));
		UUID id = submitted.id("id");
		NewVisit visit = new NewVisit(new VisitId((id != null) ? id : ids.next()), at, me.person(), stop, performedAt(submitted),
				clockOffset(submitted), situation, readings, reading.waterReplaced(), reading.doses(), reading.tasks(),
				reading.note("noteToClient"), reading.note("noteToOffice"), json(reading.advice(readings, situation)),
				reading.photos(photos, photoProcessor));
		reading.requireContents(visit);
		reading.askAboutSecondVisit(visit, context.submittedVisit());
		if (!reading.hasProblems()) {
			try {
				VisitRecord stored = entry.submit(me, visit);
				return redirect("/visits/" + stored.id() + "?saved", exchange, request, response);
			}
			catch (VisitConflict ex) {
				reading.addConflict();
				model.addAttribute("conflict", visit.id());
			}
		}
		show(me, context, submitted, reading.problems(), model);
		return view(exchange);
	}

	private VisitFormParser parser(VisitEntryService.VisitContext context, SubmittedForm submitted) {
		return new VisitFormParser(submitted, context.company().units(), context.pool().facts(), context.products(),
				context.company().treatment().tests(), texts);
	}

	/** When it was sent by the phone's clock, put right where that clock is off; without script, now. */
	private Instant performedAt(SubmittedForm submitted) {
		Instant now = clock.instant();
		Long performed = submitted.number("performedAt");
		Long offset = clockOffset(submitted);
		if (performed == null || offset == null) {
			return now;
		}
		Instant at = Instant.ofEpochMilli(performed).minusMillis((Math.abs(offset) > MAX_CLOCK_OFFSET.toMillis()) ? offset : 0);
		return at.isAfter(now) || at.isBefore(now.minus(VisitRecord.MAX_UNSENT)) ? now : at;
	}

	private @Nullable Long clockOffset(SubmittedForm submitted) {
		Long sent = submitted.number("sentAt");
		return (sent != null && sent > 0 && sent < Long.MAX_VALUE / 2) ? Long.valueOf(sent - clock.millis()) : null;
	}

	private void show(SignedInUser me, VisitEntryService.VisitContext context, SubmittedForm submitted, List<FieldProblem> problems,
			Model model) {
		UnitSystem units = context.company().units();
		UUID id = submitted.id("id");
		SubmittedForm shown = submitted.with("id", ((id != null) ? id : ids.next()).toString())
			.with("pool", context.pool().id().toString())
			.with("stop", (context.stop() != null) ? context.stop().id().toString() : "");
		model.addAttribute("form",
				new VisitFormBuilder(context.pool().facts(), context.products(), units, context.company().treatment().tests(), texts)
					.build(shown, problems, context.lastVisit()));
		model.addAttribute("pool", VisitPoolView.of(context, entry.describeTrends(context), texts));
		model.addAttribute("plan",
				Advice.fromJson(shown.text("advice")).map(advice -> PlanView.of(advice, new LevelFormatter(units, texts))).orElse(null));
		model.addAttribute("work",
				plannedWork.open(me.company(), context.pool().id()).stream().map(one -> one.text(texts, texts.locale())).toList());
		model.addAttribute("workPool", context.pool().id());
		model.addAttribute("workStop", (context.stop() != null) ? context.stop().id() : null);
		model.addAttribute("draft", me.person() + "/" + context.pool().id() + "/" + shown.text("stop"));
	}

	private static String view(@Nullable String exchange) {
		return (exchange != null) ? "visit/visit :: entry" : "visit/visit";
	}

	private static @Nullable String json(@Nullable Advice advice) {
		return (advice != null) ? advice.toJson() : null;
	}

	/** htmx gets the address in a header; a plain form is redirected. */
	static @Nullable String redirect(String to, @Nullable String exchange, HttpServletRequest request, HttpServletResponse response) {
		if (exchange == null) {
			return "redirect:" + to;
		}
		response.setHeader("HX-Redirect", request.getContextPath() + to);
		response.setStatus(HttpServletResponse.SC_NO_CONTENT);
		return null;
	}

}
