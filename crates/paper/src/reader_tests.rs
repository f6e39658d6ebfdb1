//! Every number that people read follows the reader's marks; English readers read what they always read.

use crate::{
    cost, departures, gentle, heat, inventory_figure, inventory_table, limiting, looks, method,
    mistakes, number, premises, season, sentences, stop_lines,
};
use figures::Table;
use figures::locale::{Marks, in_english, set};
use survey::evaluate::{Evaluator, Replicate};
use survey::generator::World;
use survey::scenario::{
    Checked, Costs, Effect, FutilityRule, LookBoundary, LookFutility, Looks, Plan, Stepped, read,
    trap_presets,
};
use survey::search::{Candidate, FrontPoint, Missed};
use survey::summary::{
    Answer, Evidence, LooksAnswer, OneSpecies, Several, analysed_years, looks_answer, several,
    summarise,
};

/// Marks that stand nowhere else, so that each is surely a number's.
const DECIMAL: char = '\u{66b}';
const THOUSANDS: char = '\u{66c}';

/// What `make` makes for a reader of these marks.
fn read_by<T>(marks: Marks, make: impl FnOnce() -> T) -> T {
    in_english(|| {
        set(marks);
        make()
    })
}

fn german() -> Marks {
    Marks::new(',', Some('.'), 1).expect("sound")
}

fn demo(text: &str) -> Checked {
    let mut s = read(text).expect("a demo");
    s.premises.trap_options = trap_presets();
    let mut costs = Costs::usual();
    costs.currency = "crowns".into();
    costs.stepped = vec![Stepped::usual()];
    s.premises.costs = Some(costs);
    s.check().expect("a demo")
}

fn beetles() -> Checked {
    demo(include_str!("../../../demo-data/meadow-beetles.json"))
}

/// A few simulated surveys of both worlds: the sentences are asked for, not the numbers.
fn surveys(s: &Checked, plan: &Plan, seed: u64) -> [Vec<Replicate>; 2] {
    let mut evaluator = Evaluator::new(s, plan, seed).expect("a design");
    [World::Change, World::Still].map(|world| {
        let each = (0..40).map(|n| evaluator.run(n, world).expect("counts"));
        each.collect()
    })
}

pub(crate) fn answer(s: &Checked) -> Answer {
    let [change, still] = surveys(s, &s.plan, 1);
    summarise(s, &s.plan, &Evidence::whole(&change, &still))
}

fn cells(table: &Table) -> Vec<String> {
    let first = std::iter::once(&table.caption).chain(&table.headers);
    first.chain(table.rows.iter().flatten()).cloned().collect()
}

/// What is told of a scenario without its premises' own words.
fn told(s: &Checked, a: Option<&Answer>) -> Vec<String> {
    let mut all = vec![sentences::question(s), sentences::plan(&s.plan)];
    all.push(sentences::search_space(s));
    all.extend(departures::stated(s));
    if let Some(a) = a {
        all.push(sentences::verdict(s, a));
        all.extend(sentences::notes(s, a));
        all.extend(a.toll.as_ref().map(|t| sentences::spread(&t.total)));
        all.extend(sentences::smallest(s, a).map(|t| t.value));
    }
    if let Ok(l) = survey::limiting::limiting(s) {
        all.extend(limiting::sentences(s, &l));
        all.extend(cells(&limiting::figure(s, &l).table()));
    }
    let g = survey::gentle::gentle(s);
    all.extend(gentle::sentences(s, &g));
    all.extend(cells(&gentle::lighter_table(s, &g)));
    if let Some(cost) = survey::cost::expected_cost(s, &s.plan) {
        all.push(cost::phrase(s, &cost.total));
        all.extend(cells(&cost::by_year(&cost)));
        all.extend(cost.stepped.iter().map(|c| cost::stepped(c, "crowns")));
    }
    if let Some(report) = survey::inventory::report(s, 10) {
        all.extend(sentences::inventory(&report));
        all.extend(sentences::further(&report));
        all.extend(cells(&crate::gain_table(&report)));
        if let Some(form) = &report.individuals {
            all.extend(cells(&inventory_table(form)));
            all.push(inventory_figure(s, &report, form).description);
        }
    }
    all
}

/// What is told of the beetles besides.
fn told_of_beetles(s: &Checked) -> Vec<String> {
    let mut all = Vec::new();
    let axes = survey::heat::Axes {
        years: vec![5, 10],
        sites: vec![12, 24],
    };
    let map = survey::heat::Work::new(s, axes).expect("a map").finish();
    all.extend(heat::sentences(s, &map));
    all.extend(cells(&heat::figure(s, &map).table()));
    let base = survey::mistakes::Base::of(s);
    for mistake in survey::mistakes::Mistake::ALL {
        let knobs = mistake.knobs(&base);
        all.extend(knobs.iter().map(mistakes::knob));
        let shown = mistake.shown(&base, &knobs, 1);
        all.extend(mistakes::sentences(&shown));
        all.extend(cells(&mistakes::figure(&shown).table()));
    }
    let weights = survey::season::Weights::default();
    let weeks = survey::season::by_week(s, &weights);
    all.extend(cells(&season::figure(s, &weeks, &weights).table()));
    let report = survey::season::season_report(s, 2, weights);
    all.extend(cells(&season::robustness(&report.robustness)));
    all.extend(cells(&season::sets("beetles", &report.plan, &report.best)));
    all.extend(method::size_summary().rows.concat());
    all.extend(cells(&method::size_cells("0.5")));
    all.extend(
        cells(&premises::table(s))
            .into_iter()
            .filter(|c| !c.contains("et al")),
    );
    all
}

/// What is told of a rule to stop.
fn told_of_stopping() -> Vec<String> {
    let mut all = Vec::new();
    for key in survey::stop_lines::RULES {
        let mut s = read(include_str!("../../../demo-data/orchard-baseline.json")).expect("a demo");
        s.plan.stop_rule = survey::stop_lines::usual(&s, key);
        let s = s.check().expect("a demo");
        let plan = survey::stop_lines::stop_plan(&s).expect("lines");
        all.extend([stop_lines::rule(&plan), stop_lines::sample(&s, &plan)]);
        all.extend(stop_lines::verdict(&plan));
        all.extend(cells(&stop_lines::means(&plan)));
    }
    all
}

/// The beetles with looks, simulated.
fn looked_at() -> (Checked, LooksAnswer) {
    let mut s = beetles().into_inner();
    s.plan.looks = Some(Looks {
        after_years: vec![4, 7],
        boundary: LookBoundary::SpendPocock,
        futility: Some(LookFutility {
            rule: FutilityRule::ConditionalPower(0.1),
            binding: false,
        }),
    });
    let s = s.check().expect("looks");
    let plan = survey::looks::looks_plan(&s).expect("looks");
    let preview = survey::looks::looks_preview(&s, &plan);
    let all: Vec<_> = analysed_years(&s)
        .into_iter()
        .map(|years| {
            let mut plan = s.plan.clone();
            plan.looks = plan.looks.filter(|_| years == s.plan.years);
            plan.years = years;
            surveys(&s, &plan, 1)
        })
        .collect();
    let evidence: Vec<Evidence> = all
        .iter()
        .map(|[change, still]| Evidence::whole(change, still))
        .collect();
    let told = looks_answer(&s, &plan, &preview, &evidence);
    (s, told)
}

/// What is told of planned looks.
fn told_of_looks((s, a): &(Checked, LooksAnswer)) -> Vec<String> {
    let mut all = looks::rules(s, a);
    all.extend(looks::told(s, a));
    all.push(looks::naive(s, a));
    let tables = [
        Some(looks::looks_table(s, a)),
        looks::toll_table(s, a),
        looks::cost_table(s, a),
    ];
    all.extend(tables.iter().flatten().flat_map(cells));
    all
}

/// The demo's list of species, simulated.
fn listed() -> (Checked, Several) {
    let s = demo(include_str!("../../../demo-data/meadow-several.json"));
    let each: Vec<_> = (0..survey::several::species(&s))
        .map(|number| {
            let about = survey::several::about(&s, number).expect("a species");
            let drawn = surveys(&about, &s.plan, survey::several::seed_of(1, number));
            (about, drawn)
        })
        .collect();
    let species: Vec<OneSpecies> = each
        .iter()
        .map(|(about, [change, still])| (about, &s.plan, Evidence::whole(change, still)))
        .collect();
    let told = several(&species).expect("a list");
    (s, told)
}

/// What is told of a list of species.
fn told_of_list((s, list): &(Checked, Several)) -> Vec<String> {
    let mut all = sentences::several(s, list);
    all.extend(sentences::list_verdict(s, list));
    all.extend(sentences::one_of_several(s));
    all.extend(sentences::asked_of_several(s));
    all.extend(sentences::least_of_list(s));
    all.extend(cells(&sentences::species_table(s, list)));
    all
}

/// What is told of a search for the least plan, and of what does not come back.
fn told_of_search(a: &Answer) -> Vec<String> {
    let mut s = beetles().into_inner();
    s.limits.sites = 12;
    s.limits.traps_per_site = 2;
    s.limits.weeks = 3;
    s.limits.years = vec![5, 8];
    s.limits.exposure_days = vec![3.5, 7.0];
    s.premises.attrition.value = 0.125;
    let s = s.check().expect("limits");
    let mut all = vec![sentences::search_space(&s)];
    let screen = survey::search::screen(&s);
    let told = |c: &Candidate| FrontPoint {
        plan: c.plan.clone(),
        preview_power: c.preview,
        expected_toll: c.toll.total(),
        weighted_toll: c.weighted_toll,
        cost: c.cost,
        power: Some(a.power),
        false_alarm: Some(a.false_alarm),
        least: false,
    };
    let points: Vec<FrontPoint> = screen.frontier.iter().map(told).collect();
    let figure = crate::least_figure(&s, &points).expect("a frontier");
    all.extend(cells(&figure.table()));
    // A margin that no plan within these limits reaches.
    let most = screen.frontier.iter().map(|c| c.margin);
    let needed = 1.2 * most.fold(0.0, f64::max);
    let relaxed = survey::search::relaxed(&s, needed, f64::INFINITY);
    assert!(!relaxed.is_empty(), "no limit binds");
    all.extend(relaxed.iter().map(sentences::binding));
    for (most_too_low, weighted_toll) in [(0.0125, 5000.0), (0.0, 1234.0)] {
        all.push(sentences::missed(&Missed {
            most_too_low,
            plans: 12,
            weighted_toll,
            expected_toll: 5000.0,
        }));
    }
    all.push(sentences::undecided((3456.0, 12_345.0), 1000));
    all.push(sentences::half_exposure(3.5, 0.755, 0.8, 2345.0));
    all.push(sentences::race(2, 0.001, 12_345));
    let smallest = a.smallest_change.as_ref();
    let worth = sentences::worth_of_smaller(&s, smallest, &a.significant, Some(1234.0));
    all.push(worth);
    let returns = survey::returns::returns(&s);
    all.extend(cells(&crate::returns::table(&s, &returns)));
    all.extend(cells(&crate::revisit::patterns_table(
        &crate::revisit::compare(&s),
    )));
    all
}

/// Everything, in the marks of whoever reads.
fn everything(told_by: &ToldBy) -> Vec<String> {
    let ToldBy { demos, looks, list } = told_by;
    let mut all: Vec<String> = demos
        .iter()
        .flat_map(|(s, a)| told(s, a.as_ref()))
        .collect();
    all.extend(told_of_beetles(&demos[0].0));
    all.extend(told_of_stopping());
    all.extend(told_of_looks(looks));
    all.extend(told_of_list(list));
    if let (_, Some(answer)) = &demos[0] {
        all.extend(told_of_search(answer));
    }
    all
}

/// What is simulated once, whoever reads it.
struct ToldBy {
    demos: Vec<(Checked, Option<Answer>)>,
    looks: (Checked, LooksAnswer),
    list: (Checked, Several),
}

fn demos() -> Vec<(Checked, Option<Answer>)> {
    let beetles = beetles();
    let simulated = answer(&beetles);
    let others = [
        include_str!("../../../demo-data/meadow-no-worse.json"),
        include_str!("../../../demo-data/mountain-moths.json"),
        include_str!("../../../demo-data/mountain-occupancy.json"),
        include_str!("../../../demo-data/orchard-absence.json"),
        include_str!("../../../demo-data/orchard-baseline.json"),
        include_str!("../../../demo-data/meadow-inventory.json"),
    ];
    let others = others.map(|text| {
        let s = demo(text);
        let simple = matches!(
            s.question.effect,
            Effect::Baseline(_) | Effect::Absence(_) | Effect::Occupancy(_)
        );
        let a = simple.then(|| answer(&s));
        (s, a)
    });
    std::iter::once((beetles, Some(simulated)))
        .chain(others)
        .collect()
}

/// Where a digit, a mark of the English and a digit stand together.
fn left_in_english(text: &str) -> bool {
    let letters: Vec<char> = text.chars().collect();
    let digit = |c: char| c.is_ascii_digit();
    letters
        .windows(3)
        .any(|w| digit(w[0]) && matches!(w[1], '.' | ',') && digit(w[2]))
}

#[test]
fn every_number_follows_the_reader() {
    let told_by = ToldBy {
        demos: demos(),
        looks: looked_at(),
        list: listed(),
    };
    let english = everything(&told_by);
    let marks = Marks::new(DECIMAL, Some(THOUSANDS), 1).expect("sound");
    let others = read_by(marks, || everything(&told_by));
    assert_eq!(english.len(), others.len());
    let mut with_decimals = 0;
    for (english, other) in english.iter().zip(&others) {
        assert!(!left_in_english(other), "{other}");
        let back = other.replace(DECIMAL, ".").replace(THOUSANDS, ",");
        assert_eq!(&back, english);
        with_decimals += usize::from(other.contains(DECIMAL));
    }
    assert!(with_decimals > 100, "{with_decimals}");
    assert_eq!(everything(&told_by), english, "the marks came back");
}

#[test]
fn the_demo_in_german_marks() {
    let s = beetles();
    let (english, told) = (
        sentences::question(&s),
        read_by(german(), || sentences::question(&s)),
    );
    assert!(english.contains("(3.50 % a year)"), "{english}");
    assert_eq!(
        told,
        english.replace("3.50", "3,50").replace("5.0 %", "5,0 %")
    );
    read_by(german(), || {
        assert_eq!(number::count(1_234_567.0), "1.234.567");
        assert_eq!(number::rounded(79_093.0), "79.100");
        assert_eq!(number::percent(0.056), "5,6 %");
        assert_eq!(number::signed(-1.25, 1), "-1,2");
        assert_eq!(number::unmarked(0.05), "0.05");
    });
}

/// What machines read has full stops, whoever saves it.
#[test]
fn saved_tables_stay_english() {
    let s = beetles();
    let weights = survey::season::Weights::default();
    let cost = survey::cost::expected_cost(&s, &s.plan).expect("costs");
    let g = survey::gentle::gentle(&s);
    let base = survey::mistakes::Base::of(&s);
    let mistake = survey::mistakes::Mistake::YearsIgnored;
    let shown = mistake.shown(&base, &mistake.knobs(&base), 1);
    let save = || {
        [
            season::figure(&s, &survey::season::by_week(&s, &weights), &weights).csv(),
            cost::all_months(&cost).csv(),
            gentle::csv(&g),
            mistakes::figure(&shown).csv(),
        ]
    };
    let english = save();
    assert!(english.iter().all(|csv| csv.contains('.')));
    assert_eq!(read_by(german(), save), english);
}
