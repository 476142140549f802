package org.meniscus.spend.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Currency;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.spend.DoseCost;
import org.meniscus.spend.Spend;
import org.meniscus.spend.Spend.BreakdownLine;
import org.meniscus.spend.Spend.SpendTotal;
import org.meniscus.spend.SpendBreakdown;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.BeanPropertyBindingResult;

/** The spend page, its file and its form, worked out by hand beside them. */
class SpendPageTests {

	private static final Currency DOLLAR = Currency.getInstance("USD");

	private static final UUID YARD = UUID.randomUUID();

	private static final UUID SPA = UUID.randomUUID();

	private static final LocalDate FROM = LocalDate.of(2026, 3, 15);

	private static final LocalDate TO = LocalDate.of(2026, 4, 10);

	/** 30.00 for a pool that pays 100.00, 10.00 for one that pays 8.00, none for one without a fee. */
	private static Spend spend() {
		Map<SpendBreakdown, List<BreakdownLine>> breakdowns = new EnumMap<>(SpendBreakdown.class);
		breakdowns.put(SpendBreakdown.POOL,
				List.of(new BreakdownLine(YARD, null, "=Back yard", "Ida Brook", new SpendTotal(3000, 3, 1), 10_000L),
						new BreakdownLine(SPA, null, "Spa", "Ida Brook", new SpendTotal(1000, 2, 0), 800L),
						new BreakdownLine(UUID.randomUUID(), null, "Pond", "Bo Reed", SpendTotal.ZERO, null)));
		breakdowns.put(SpendBreakdown.MONTH,
				List.of(new BreakdownLine(null, LocalDate.of(2026, 4, 1), "", null, new SpendTotal(2500, 2, 0), null),
						new BreakdownLine(null, LocalDate.of(2026, 3, 1), "", null, new SpendTotal(1500, 3, 1), null)));
		return new Spend(FROM, TO, new SpendTotal(4000, 5, 1), breakdowns, List.of(new Spend.UnpricedProduct("Salt", 1)));
	}

	@Test
	void poolsShowTheirShareOfSpendAndWhatIsLeftOfTheFee() {
		SpendPage page = SpendPage.of(spend(), SpendBreakdown.POOL, DOLLAR);
		assertThat(page.total()).contains("40.00");
		assertThat(page.doses()).isEqualTo(5);
		assertThat(page.unpriced()).isEqualTo(1);
		SpendPage.SpendRow yard = page.rows().get(0);
		assertThat(yard.bar()).isEqualTo(75);
		assertThat(yard.percent()).isEqualTo("75.0 %");
		assertThat(yard.href()).isEqualTo("/pools/" + YARD);
		assertThat(yard.fee()).contains("100.00");
		assertThat(yard.left()).contains("70.00");
		assertThat(yard.overspent()).isFalse();
		assertThat(page.rows().get(1).overspent()).as("10.00 of 8.00").isTrue();
		assertThat(page.rows().get(2).fee()).isNull();
		assertThat(page.rows().get(2).left()).isNull();
	}

	@Test
	void feesCountOnlyPoolsThatPayOne() {
		SpendPage page = SpendPage.of(spend(), SpendBreakdown.POOL, DOLLAR);
		assertThat(page.fees()).contains("108.00");
		assertThat(page.chemicalsOfFees()).contains("40.00");
		assertThat(page.shareOfFees()).as("40 of 108").isEqualTo(37);
		assertThat(page.left()).contains("68.00");
		assertThat(page.poolsWithoutFee()).isEqualTo(1);
	}

	@Test
	void withoutFeesAndSpendNothingIsDividedByZero() {
		Spend nothing = new Spend(FROM, TO, SpendTotal.ZERO,
				Map.of(SpendBreakdown.POOL, List.of(new BreakdownLine(YARD, null, "Pond", "Bo Reed", SpendTotal.ZERO, null))), List.of());
		SpendPage page = SpendPage.of(nothing, SpendBreakdown.POOL, DOLLAR);
		assertThat(page.fees()).isNull();
		assertThat(page.chemicalsOfFees()).isNull();
		assertThat(page.shareOfFees()).isNull();
		assertThat(page.left()).isNull();
		assertThat(page.rows().get(0).bar()).isZero();
		assertThat(page.rows().get(0).percent()).isEqualTo("–");
	}

	@Test
	void monthLeadsToItsPoolsWithinThePeriod() {
		SpendPage page = SpendPage.of(spend(), SpendBreakdown.MONTH, DOLLAR);
		assertThat(page.rows()).extracting(SpendPage.SpendRow::name).containsExactly("April 2026", "March 2026");
		assertThat(page.rows()).extracting(SpendPage.SpendRow::href)
			.containsExactly("/spend?by=pool&from=2026-04-01&to=2026-04-10", "/spend?by=pool&from=2026-03-15&to=2026-03-31");
	}

	/** 453.59237 g to the pound, 3785.411784 ml to the gallon. */
	@ParameterizedTest
	@CsvSource({ "907.18474, false, US, 2.0000, lb", "1892.705892, true, US, 0.5000, gal", "1500, false, METRIC, 1.5000, kg",
			"250, true, METRIC, 0.2500, L" })
	void dosesAreWrittenInUnitsOfTheCompany(BigDecimal amount, boolean liquid, UnitSystem units, String written, String unit)
			throws IOException {
		UUID visit = UUID.randomUUID();
		StringBuilder out = new StringBuilder();
		SpendCsv.doses(out, List.of(new DoseCost(FROM, "Ida Brook", "Back yard", "Theo Ashby", "+Salt", amount, liquid, 1234, visit),
				new DoseCost(TO, "Ida Brook", "Back yard", "Theo Ashby", "Salt", amount, liquid, null, visit)), units, DOLLAR);
		assertThat(out.toString().split("\r\n")).containsExactly(
				"day,client,pool,technician,product,amount,unit,cost,currency,visit",
				"2026-03-15,Ida Brook,Back yard,Theo Ashby,'+Salt," + written + "," + unit + ",12.34,USD," + visit,
				"2026-04-10,Ida Brook,Back yard,Theo Ashby,Salt," + written + "," + unit + ",,USD," + visit);
	}

	@Test
	void breakdownsAreWrittenWithFeesWhereTheyArePools() throws IOException {
		StringBuilder pools = new StringBuilder();
		SpendCsv.breakdown(pools, spend(), SpendBreakdown.POOL, DOLLAR);
		assertThat(pools.toString().split("\r\n")).containsExactly("client,pool,doses,doses without price,cost,currency,fee,left",
				"Ida Brook,'=Back yard,3,1,30.00,USD,100.00,70.00", "Ida Brook,Spa,2,0,10.00,USD,8.00,-2.00",
				"Bo Reed,Pond,0,0,0.00,USD,,");
		StringBuilder months = new StringBuilder();
		SpendCsv.breakdown(months, spend(), SpendBreakdown.MONTH, Currency.getInstance("JPY"));
		assertThat(months.toString().split("\r\n")).containsExactly("month,doses,doses without price,cost,currency", "2026-04,2,0,2500,JPY",
				"2026-03,3,1,1500,JPY");
	}

	@ParameterizedTest
	@CsvSource({ "2026-05-01, 2026-04-30, to", "2026-05-01, 2026-05-01,", "2016-05-01, 2026-05-01,", "2016-05-01, 2026-05-02, from",
			"1999-12-31, 2005-01-01, from", "2000-01-01, 2005-01-01,", "2200-12-31, 2200-12-31,", "2196-01-01, 2201-01-01, to" })
	void periodsAreInOrderAndTenYearsAtMost(LocalDate from, LocalDate to, @Nullable String wrong) {
		SpendForm form = new SpendForm(from, to, null);
		BeanPropertyBindingResult errors = new BeanPropertyBindingResult(form, "form");
		form.validate(errors);
		assertThat(errors.getFieldErrors()).extracting(error -> error.getField()).isEqualTo((wrong != null) ? List.of(wrong) : List.of());
	}

	@Test
	void lastTwelveMonthsByMonthAreTheDefault() {
		SpendForm form = new SpendForm(null, null, null).withDefaults(LocalDate.of(2026, 6, 18));
		assertThat(form).isEqualTo(new SpendForm(LocalDate.of(2025, 7, 1), LocalDate.of(2026, 6, 18), null));
		assertThat(new SpendForm(FROM, TO, "Pool").withDefaults(TO)).isEqualTo(new SpendForm(FROM, TO, "Pool"));
		assertThat(form.breakdown()).isEqualTo(SpendBreakdown.MONTH);
		assertThat(new SpendForm(null, null, "Pool").breakdown()).isEqualTo(SpendBreakdown.POOL);
		assertThat(new SpendForm(null, null, "weather").breakdown()).isEqualTo(SpendBreakdown.MONTH);
	}

}
