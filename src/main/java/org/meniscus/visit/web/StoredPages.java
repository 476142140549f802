package org.meniscus.visit.web;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.Stale;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.platform.web.Measures;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.VisitBook;
import org.meniscus.visit.VisitDesk;
import org.meniscus.visit.VisitId;
import org.meniscus.water.treatment.ReadingCheck;
import org.meniscus.water.treatment.Readings;
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
class StoredPages {

	private static final int REASON_MAX = 500;

	private final VisitDesk desk;

	private final Texts texts;

	StoredPages(VisitDesk desk, Texts texts) {
		this.desk = desk;
		this.texts = texts;
	}

	@GetMapping
	String visit(@AuthenticationPrincipal SignedIn me, @PathVariable UUID id, Model model) {
		VisitDesk.File file = desk.open(me, new VisitId(id));
		model.addAttribute("visit", StoredView.of(file, me.isOwner(), texts));
		model.addAttribute("mayShare", me.isOffice() || file.visit().technician().equals(me.person()));
		return "visit/stored";
	}

	/** Never changes, but is not for whoever uses the same phone next: kept by the browser alone, and not for long. */
	@GetMapping("/photos/{n}")
	ResponseEntity<byte[]> photo(@AuthenticationPrincipal SignedIn me, @PathVariable UUID id, @PathVariable String n) {
		if (!n.matches("[0-9]{1,2}")) {
			throw new NotFound("photo");
		}
		return ResponseEntity.ok()
			.contentType(MediaType.IMAGE_JPEG)
			.cacheControl(CacheControl.maxAge(Duration.ofMinutes(10)).cachePrivate())
			.body(desk.photo(me, new VisitId(id), Integer.parseInt(n)));
	}

	@GetMapping("/correct")
	String correct(@AuthenticationPrincipal SignedIn me, @PathVariable UUID id, Model model) {
		VisitDesk.File file = open(me, id);
		return page(file, making(file).typed(file.visit()), List.of(), file.visit().version(), model);
	}

	@PostMapping("/correct")
	String store(@AuthenticationPrincipal SignedIn me, @PathVariable UUID id, @RequestParam long version,
			@RequestParam(required = false) @Nullable String more, @RequestParam MultiValueMap<String, String> values, Model model) {
		VisitDesk.File file = open(me, id);
		Typed typed = new Typed(values);
		if (more != null) {
			List<DoseLine> lines = new ArrayList<>(typed.doseLines());
			lines.add(DoseLine.blank());
			return page(file, typed.withDoses(lines), List.of(), version, model);
		}
		FormReading reading = reading(file, typed);
		Readings readings = reading.readings();
		// what stands as it was stored has been asked about before
		if (!readings.equals(reading(file, making(file).typed(file.visit())).readings())) {
			reading.findings(ReadingCheck.check(readings, null));
		}
		VisitBook.Correction correction = new VisitBook.Correction(reading.situation(), readings, reading.waterReplaced(),
				asStored(reading.doses(), file), reading.tasks(), reading.note("noteToClient"),
				reading.note("noteToOffice"));
		String reason = reading.reason(REASON_MAX);
		long next = version;
		if (!reading.refused()) {
			try {
				desk.correct(me, new VisitId(id), version, correction, reason);
				return "redirect:/visits/" + id + "?corrected";
			}
			catch (Stale ex) {
				model.addAttribute("stale", true);
				next = file.visit().version();
			}
		}
		return page(file, typed, reading.problems(), next, model);
	}

	private VisitDesk.File open(SignedIn me, UUID id) {
		VisitDesk.File file = desk.open(me, new VisitId(id));
		if (!file.mayCorrect()) {
			throw new NotFound("visit to correct");
		}
		return file;
	}

	private FormReading reading(VisitDesk.File file, Typed typed) {
		return new FormReading(typed, file.company().units(), file.pool().facts(), file.products(), texts);
	}

	private FormMaking making(VisitDesk.File file) {
		return new FormMaking(file.pool().facts(), file.products(), file.company().units(), texts);
	}

	private String page(VisitDesk.File file, Typed typed, List<Problem> problems, long version, Model model) {
		model.addAttribute("form", making(file).make(typed, problems, null));
		model.addAttribute("id", file.visit().id());
		model.addAttribute("version", version);
		model.addAttribute("reason", typed.text("reason"));
		model.addAttribute("client", file.pool().clientName());
		model.addAttribute("day", Measures.date(file.visit().performedOn(), texts.locale()));
		return "visit/correct";
	}

	/** A dose nobody touched keeps its amount to the last digit, although the form shows fewer. */
	private static List<NewDose> asStored(List<NewDose> typed, VisitDesk.File file) {
		return typed.stream()
			.map(dose -> file.visit().doses().stream()
				.filter(old -> old.product().equals(dose.product()) && shown(old, old.amount(), file).equals(shown(old, dose.amount(), file)))
				.findFirst()
				.map(old -> new NewDose(dose.product(), old.amount(), old.plannedAmount()))
				.orElse(dose))
			.toList();
	}

	private static DoseUnits.Entry shown(DoseRecord dose, double amount, VisitDesk.File file) {
		return DoseUnits.of(dose, file.products(), file.company().units()).entry(amount);
	}

}
