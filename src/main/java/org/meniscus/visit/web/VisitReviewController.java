package org.meniscus.visit.web;

import java.time.Duration;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitReviewService;
import org.meniscus.visit.VisitService;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.pool.Readings;
import org.springframework.http.CacheControl;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Visits as they are stored: to read, and to put right by a new version. */
@Controller
@StaffOnly
@RequestMapping("/visits/{id}")
class VisitReviewController {

	private static final int MAX_REASON_LENGTH = 500;

	private final VisitReviewService review;

	private final MessageSourceTexts texts;

	VisitReviewController(VisitReviewService review, MessageSourceTexts texts) {
		this.review = review;
		this.texts = texts;
	}

	@GetMapping
	String visit(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model) {
		VisitReviewService.StoredVisit file = review.open(me, new VisitId(id));
		model.addAttribute("visit", StoredVisitView.of(file, me.isOwner(), texts));
		model.addAttribute("incident", file.visit().situation().incident());
		model.addAttribute("mayShare", me.hasOfficeAccess() || file.visit().technician().equals(me.person()));
		return "visit/stored";
	}

	/** Never changes, but is not for whoever uses the same phone next: kept by the browser alone, and not for long. */
	@GetMapping("/photos/{n}")
	ResponseEntity<byte[]> photo(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @PathVariable String n) {
		if (!n.matches("[0-9]{1,2}")) {
			throw new NotFound("photo");
		}
		return ResponseEntity.ok()
			.contentType(MediaType.IMAGE_JPEG)
			.cacheControl(CacheControl.maxAge(Duration.ofMinutes(10)).cachePrivate())
			.body(review.photo(me, new VisitId(id), Integer.parseInt(n)));
	}

	@GetMapping("/correct")
	String correct(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model) {
		VisitReviewService.StoredVisit file = correctable(me, id);
		return page(file, formBuilder(file).submitted(file.visit()), List.of(), file.visit().version(), model);
	}

	@PostMapping("/correct")
	String store(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam long version,
			@RequestParam(required = false) @Nullable String more, @RequestParam MultiValueMap<String, String> values, Model model) {
		VisitReviewService.StoredVisit file = correctable(me, id);
		SubmittedForm submitted = new SubmittedForm(values);
		if (more != null) {
			return page(file, submitted.withBlankDose(), List.of(), version, model);
		}
		VisitFormParser reading = parser(file, submitted);
		Readings readings = reading.readings();
		// what stands as it was stored has been asked about before
		if (!readings.equals(parser(file, formBuilder(file).submitted(file.visit())).readings())) {
			reading.addFindings(ReadingCheck.check(readings, null));
		}
		VisitService.Correction correction = new VisitService.Correction(reading.situation(), readings, reading.waterReplaced(),
				asStored(reading.doses(), file), reading.tasks(), reading.note("noteToClient"),
				reading.note("noteToOffice"));
		String reason = reading.reason(MAX_REASON_LENGTH);
		long next = version;
		if (!reading.hasProblems()) {
			try {
				review.correct(me, new VisitId(id), version, correction, reason);
				return "redirect:/visits/" + id + "?corrected";
			}
			catch (StaleVersion ex) {
				model.addAttribute("stale", true);
				next = file.visit().version();
			}
		}
		return page(file, submitted, reading.problems(), next, model);
	}

	private VisitReviewService.StoredVisit correctable(SignedInUser me, UUID id) {
		VisitReviewService.StoredVisit file = review.open(me, new VisitId(id));
		if (!file.mayCorrect()) {
			throw new NotFound("visit to correct");
		}
		return file;
	}

	private VisitFormParser parser(VisitReviewService.StoredVisit file, SubmittedForm submitted) {
		return new VisitFormParser(submitted, file.company().units(), file.pool().facts(), file.products(),
				file.company().treatment().tests(), texts);
	}

	private VisitFormBuilder formBuilder(VisitReviewService.StoredVisit file) {
		return new VisitFormBuilder(file.pool().facts(), file.products(), file.company().units(),
				file.company().treatment().tests(), texts);
	}

	private String page(VisitReviewService.StoredVisit file, SubmittedForm submitted, List<FieldProblem> problems, long version,
			Model model) {
		model.addAttribute("form", formBuilder(file).build(submitted, problems, null));
		model.addAttribute("id", file.visit().id());
		model.addAttribute("version", version);
		model.addAttribute("reason", submitted.text("reason"));
		model.addAttribute("client", file.pool().clientName());
		model.addAttribute("day", QuantityFormatter.date(file.visit().performedOn(), texts.locale()));
		return "visit/correct";
	}

	/** A dose nobody touched keeps its amount to the last digit, although the form shows fewer. */
	private static List<NewDose> asStored(List<NewDose> submitted, VisitReviewService.StoredVisit file) {
		return submitted.stream()
			.map(dose -> file.visit().doses().stream()
				.filter(old -> old.product().equals(dose.product())
						&& shown(old, old.amount(), file).equals(shown(old, dose.amount(), file)))
				.findFirst()
				.map(old -> new NewDose(dose.product(), old.amount(), old.plannedAmount()))
				.orElse(dose))
			.toList();
	}

	private static DoseUnits.DoseQuantity shown(DoseRecord dose, double amount, VisitReviewService.StoredVisit file) {
		return DoseUnits.of(dose, file.products(), file.company().units()).quantity(amount);
	}

}
