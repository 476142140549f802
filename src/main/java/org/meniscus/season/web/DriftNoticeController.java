package org.meniscus.season.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.season.DriftNotice;
import org.meniscus.season.LevelSnapshot;
import org.meniscus.season.PoolSnapshot;
import org.meniscus.season.SeasonFormatter;
import org.meniscus.season.SeasonService;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.pool.Level;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The flags that stand, each with its reason, and what the office has decided about them. */
@Controller
@OfficeOnly
@RequestMapping("/season/notices")
class DriftNoticeController {

	private static final int MAX_REASON_LENGTH = 500;

	private final SeasonService seasons;

	private final SeasonFormatter formatter;

	private final MessageSource messages;

	DriftNoticeController(SeasonService seasons, SeasonFormatter words, MessageSource messages) {
		this.seasons = seasons;
		this.formatter = words;
		this.messages = messages;
	}

	/**
	 * One notice.
	 *
	 * @param dismissal what was decided, by whom and when; null while nobody has handled it
	 * @param submitted what was typed into a refused form
	 * @param error why it was refused; null when it was not
	 */
	record NoticeView(String key, UUID pool, String level, String name, String client, String sentence, List<String> reasons,
			@Nullable String dismissal, String submitted, @Nullable String error) {
	}

	/** A form that was refused. */
	private record RejectedDismissal(UUID pool, String level, String submitted, String error) {
	}

	@GetMapping
	String notices(@AuthenticationPrincipal SignedInUser me, Locale locale, Model model) {
		return page(me, null, locale, model);
	}

	@PostMapping("/{pool}/{level}")
	String dismiss(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable String level,
			@RequestParam(required = false) @Nullable String reason, Locale locale, Model model) {
		Level named = level(level);
		if (reason == null || !reason.matches(FormBinding.NOT_BLANK_PATTERN)) {
			return page(me, new RejectedDismissal(pool, level, (reason != null) ? reason : "", "season.notices.reason.blank"), locale,
					model);
		}
		if (reason.length() > MAX_REASON_LENGTH) {
			return page(me, new RejectedDismissal(pool, level, reason, "season.notices.reason.long"), locale, model);
		}
		seasons.dismiss(me, new PoolId(pool), named, reason);
		return "redirect:/season/notices";
	}

	@PostMapping("/{pool}/{level}/reopen")
	String reopen(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID pool, @PathVariable String level) {
		seasons.reopen(me, new PoolId(pool), level(level));
		return "redirect:/season/notices";
	}

	private String page(SignedInUser me, @Nullable RejectedDismissal refused, Locale locale, Model model) {
		LocalDate today = seasons.today(me.company());
		List<PoolSnapshot> pools = seasons.pools(me.company());
		List<NoticeView> open = DriftNotice.open(pools).stream().map(notice -> view(notice, refused, today, locale)).toList();
		if (refused != null && open.stream().noneMatch(notice -> notice.error() != null)) {
			throw new NotFound("flag");
		}
		model.addAttribute("open", open);
		model.addAttribute("dismissed", DriftNotice.dismissed(pools).stream().map(notice -> view(notice, null, today, locale)).toList());
		return "season/notices";
	}

	private NoticeView view(DriftNotice notice, @Nullable RejectedDismissal refused, LocalDate today, Locale locale) {
		LevelSnapshot level = notice.level();
		LevelSnapshot.Dismissal dismissal = level.dismissal();
		UUID pool = notice.pool().pool().value();
		RejectedDismissal own = (refused != null && refused.pool().equals(pool) && refused.level().equals(level.level().name())) ? refused
				: null;
		return new NoticeView(pool + "-" + level.level(), pool, level.level().name(), notice.pool().name(), notice.pool().client(),
				formatter.describe(level, today, locale), formatter.reasons(level, locale),
				(dismissal == null) ? null
						: messages.getMessage("season.notices.by",
								new Object[]{ dismissal.reason(), dismissal.by(), QuantityFormatter.date(dismissal.on(), locale) }, locale),
				(own != null) ? own.submitted() : "", (own != null) ? own.error() : null);
	}

	private static Level level(String name) {
		try {
			return Level.valueOf(name);
		}
		catch (IllegalArgumentException ex) {
			throw new NotFound("level");
		}
	}

}
