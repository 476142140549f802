package org.meniscus.client.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientExportService;
import org.meniscus.client.ClientImportService;
import org.meniscus.client.CsvColumn;
import org.meniscus.client.CsvProblem;
import org.meniscus.client.PoolDetails;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** Clients and pools in and out as a file. */
@Controller
@OfficeOnly
class ClientImportExportController {

	/** Problems shown on one page; the rest is counted. */
	private static final int SHOWN = 300;

	/** Spreadsheets take a file for UTF-8 when it begins with this. */
	private static final String BYTE_ORDER_MARK = "\uFEFF";

	private final ClientImportService imports;

	private final ClientExportService exports;

	private final CompanyService companies;

	private final MessageSource texts;

	ClientImportExportController(ClientImportService imports, ClientExportService exports, CompanyService companies, MessageSource texts) {
		this.imports = imports;
		this.exports = exports;
		this.companies = companies;
		this.texts = texts;
	}

	/** A problem in a file, ready to print. @param line 0 when the file as a whole is meant */
	record ImportProblemRow(int line, @Nullable String column, String description, String cellText) {
	}

	/** A line that can be saved, ready to print. */
	record ImportLineRow(int line, String client, String pool, String action) {
	}

	@GetMapping("/clients/import")
	String upload(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable String tooBig, Model model,
			Locale locale) {
		return upload(me, (tooBig != null) ? List.of(problemRow("tooBig", locale)) : List.of(), model);
	}

	@PostMapping("/clients/import")
	String stage(@AuthenticationPrincipal SignedInUser me, @RequestParam(required = false) @Nullable MultipartFile file, Model model,
			Locale locale)
			throws IOException {
		if (file == null || (file.isEmpty() && (file.getOriginalFilename() == null || file.getOriginalFilename().isEmpty()))) {
			return upload(me, List.of(problemRow("noFile", locale)), model);
		}
		if (file.getSize() > ClientImportService.SIZE_MAX) {
			return upload(me, List.of(problemRow("tooBig", locale)), model);
		}
		try {
			UUID id = imports.stage(me.company(), me.person(), Objects.requireNonNullElse(file.getOriginalFilename(), ""), file.getBytes());
			return "redirect:/clients/import/" + id;
		}
		catch (ClientImportService.UnreadableImportFile refused) {
			return upload(me, refused.problems().stream().map(problem -> problemRow(problem, locale)).toList(), model);
		}
	}

	@GetMapping("/clients/import/{id}")
	String preview(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		return preview(imports.preview(me.company(), id), false, model, locale);
	}

	@PostMapping("/clients/import/{id}/save")
	String save(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam(defaultValue = "false") boolean validOnly,
			@RequestParam(defaultValue = "false") boolean duplicates, Model model, Locale locale) {
		Optional<ClientImportService.ImportResult> saved = imports.save(me.company(), id, validOnly, duplicates);
		return saved.isPresent() ? "redirect:/clients/import/" + id : preview(imports.preview(me.company(), id), true, model, locale);
	}

	@PostMapping("/clients/import/{id}/discard")
	String discard(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id) {
		imports.discard(me.company(), id);
		return "redirect:/clients/import?discarded";
	}

	@GetMapping("/clients/import/template.csv")
	ResponseEntity<byte[]> template(@AuthenticationPrincipal SignedInUser me) {
		return file("clients-template.csv", exports.template(companies.settings(me.company()).units()));
	}

	@GetMapping("/clients/export")
	String export() {
		return "client/export";
	}

	/** @param access whether gate codes and the like go along */
	@GetMapping("/clients/export.csv")
	ResponseEntity<byte[]> export(@AuthenticationPrincipal SignedInUser me, @RequestParam(defaultValue = "false") boolean access) {
		return file("clients.csv", exports.export(me.company(), access));
	}

	private String upload(SignedInUser me, List<ImportProblemRow> problems, Model model) {
		CompanySettings settings = companies.settings(me.company());
		model.addAttribute("problems", problems);
		model.addAttribute("columns", columns(settings.units()));
		model.addAttribute("currency", settings.currency().getCurrencyCode());
		model.addAttribute("rowsMax", ClientImportService.ROWS_MAX);
		return "client/import";
	}

	private static List<ImportColumnRow> columns(UnitSystem units) {
		return java.util.Arrays.stream(CsvColumn.values())
			.map(column -> new ImportColumnRow(column.header(units), "client.import.column." + column)).toList();
	}

	/** A header and the message key of its description. */
	record ImportColumnRow(String header, String key) {
	}

	private String preview(ClientImportService.ImportPreview preview, boolean refused, Model model, Locale locale) {
		model.addAttribute("file", preview);
		model.addAttribute("refused", refused);
		model.addAttribute("problems",
				preview.problems().stream().limit(SHOWN).map(problem -> problemRow(problem, locale)).toList());
		model.addAttribute("moreProblems", Math.max(0, preview.problems().size() - SHOWN));
		model.addAttribute("validLines", preview.lines()
			.stream()
			.sorted(Comparator.comparingInt(ClientImportService.ImportLine::line))
			.map(line -> lineRow(line, locale))
			.toList());
		model.addAttribute("invalidCount", preview.invalidLines());
		model.addAttribute("validCount", preview.validLines());
		model.addAttribute("duplicates", preview.duplicates());
		return "client/preview";
	}

	private ImportLineRow lineRow(ClientImportService.ImportLine line, Locale locale) {
		PoolDetails pool = line.pool();
		String key = "client.import.action." + line.action()
				+ ((line.action() == ClientImportService.ImportAction.DUPLICATE && line.earlierLine() == 0) ? ".stored" : "")
				+ ((line.action() == ClientImportService.ImportAction.NEW_CLIENT && pool == null) ? ".noPool" : "");
		return new ImportLineRow(line.line(), line.client().name(), (pool != null) ? pool.name() : "",
				texts.getMessage(key, new Object[]{ String.valueOf(line.earlierLine()) }, locale));
	}

	private ImportProblemRow problemRow(String code, Locale locale) {
		return problemRow(new CsvProblem(0, null, code, List.of(), ""), locale);
	}

	private ImportProblemRow problemRow(CsvProblem problem, Locale locale) {
		Object[] args = problem.code().equals("tooBig")
				? new Object[]{ QuantityFormatter.decimal(ClientImportService.SIZE_MAX / 1024.0 / 1024.0, 0) }
				: problem.args().toArray();
		return new ImportProblemRow(problem.line(), problem.column(),
				texts.getMessage("client.import.problem." + problem.code(), args, locale),
				problem.cellText());
	}

	private static ResponseEntity<byte[]> file(String name, String content) {
		return ResponseEntity.ok()
			.contentType(new MediaType("text", "csv", StandardCharsets.UTF_8))
			.header(HttpHeaders.CONTENT_DISPOSITION, ContentDisposition.attachment().filename(name).build().toString())
			.header(HttpHeaders.CACHE_CONTROL, "no-store")
			.body((BYTE_ORDER_MARK + content).getBytes(StandardCharsets.UTF_8));
	}

}
