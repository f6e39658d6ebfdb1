//! What a plan costs, in words, tables and a picture.

use crate::number::{count, plain, unmarked};
use crate::sentences;
use figures::stacked::{Side, Stack};
use figures::{StackedBars, Table};
use survey::cost::{CostTotals, Hours, PlanCost, Staff, SteppedCost, YearCost};
use survey::scenario::{Costs, Paid, Premise, Sample, Scenario, Source, SteppedBy};

/// Names of the months.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// How the numbers are to be read.
pub const ABOUT: [&str; 3] = [
    "Expected values: the catch of the stated change, without the luck of the draw and without the ranges of the premises.",
    "Months by one rule: the year is taken as 52 weeks, and week w lies in month 12 (w - 1) / 52, the whole part, + 1. Setting up is booked in the season's first week, taking down in its last.",
    "A lost trap-week is visited and kills, but leaves nothing to sort; where losses follow the catch, the mean share is taken all the same.",
];

/// The month with this number, 1 to 12.
fn month(number: u32) -> &'static str {
    let place = (number as usize).wrapping_sub(1);
    MONTHS.get(place).copied().unwrap_or("?")
}

/// Money with its currency.
pub fn money(amount: f64, currency: &str) -> String {
    format!("{} {}", count(amount), currency.trim())
}

/// The currency of a scenario; empty without costs.
pub fn currency(scenario: &Scenario) -> &str {
    let costs = scenario.premises.costs.as_ref();
    costs.map_or("", |c| c.currency.trim())
}

/// Hours and money in one phrase.
pub fn phrase(scenario: &Scenario, cost: &CostTotals) -> String {
    format!(
        "{} hours, {}",
        count(cost.all_hours),
        money(cost.money, currency(scenario))
    )
}

/// Hours by kind in one phrase.
pub fn by_kind(h: &Hours) -> String {
    format!(
        "{} travel, {} field, {} sorting, {} identification, {} curation",
        count(h.travel),
        count(h.field),
        count(h.sorting),
        count(h.identification),
        count(h.curation)
    )
}

fn kinds(h: &Hours) -> Vec<String> {
    [
        h.travel,
        h.field,
        h.sorting,
        h.identification,
        h.curation,
        h.total(),
    ]
    .map(count)
    .to_vec()
}

const KINDS: [&str; 6] = [
    "travel",
    "field",
    "sorting",
    "identification",
    "curation",
    "all hours",
];

fn headers(first: &[&str], last: &[&str]) -> Vec<String> {
    let all = first.iter().chain(&KINDS).chain(last);
    all.map(|h| (*h).to_string()).collect()
}

/// What staff have, as a cell.
fn staff(hours: f64) -> String {
    if hours > 0.0 {
        count(hours)
    } else {
        "not stated".into()
    }
}

/// Hours by month of one year against staff.
pub fn by_month(costs: &Costs, year: &YearCost) -> Table {
    let rows = year.months.iter().map(|m| {
        let mut row = vec![month(m.month).to_string()];
        row.extend(kinds(&m.hours));
        row.push(count(m.travel_days));
        row.push(staff(costs.field_staff_hours.value));
        row.push(staff(costs.laboratory_staff_hours.value));
        row
    });
    Table {
        caption: format!("Hours by month of year {}, the busiest", year.year),
        headers: headers(
            &["month"],
            &["travel days", "field staff", "laboratory staff"],
        ),
        rows: rows.collect(),
    }
}

/// Money and hours by year.
pub fn by_year(cost: &PlanCost) -> Table {
    let of = |name: &str| format!("{name}, {}", cost.currency.trim());
    let mut headers = vec!["year".to_string()];
    headers.extend(
        [
            "wages",
            "travel",
            "traps",
            "used up",
            "stepped",
            "fixed",
            "all money",
        ]
        .map(of),
    );
    headers.extend(["all hours", "travel days"].map(String::from));
    let mut rows: Vec<Vec<String>> = Vec::new();
    for y in &cost.years {
        let m = &y.money;
        let sums = [
            m.wages,
            m.travel,
            m.traps,
            m.consumables,
            m.stepped,
            m.fixed,
            y.all_money,
            y.hours.total(),
            y.travel_days,
        ];
        let mut row = vec![y.year.to_string()];
        row.extend(sums.map(count));
        rows.push(row);
    }
    let sum = |of: &dyn Fn(&YearCost) -> f64| count(cost.years.iter().map(of).sum());
    rows.push(vec![
        "all years".into(),
        sum(&|y| y.money.wages),
        sum(&|y| y.money.travel),
        sum(&|y| y.money.traps),
        sum(&|y| y.money.consumables),
        sum(&|y| y.money.stepped),
        sum(&|y| y.money.fixed),
        count(cost.total.money),
        count(cost.total.all_hours),
        count(cost.total.travel_days),
    ]);
    Table {
        caption: "Money and hours by year".into(),
        headers,
        rows,
    }
}

/// Every month of every year, with plain numbers for a spreadsheet.
pub fn all_months(cost: &PlanCost) -> Table {
    let mut rows = Vec::new();
    for y in &cost.years {
        for m in &y.months {
            let h = &m.hours;
            let numbers = [
                h.travel,
                h.field,
                h.sorting,
                h.identification,
                h.curation,
                h.total(),
                m.travel_days,
            ];
            let mut row = vec![y.year.to_string(), m.month.to_string()];
            row.extend(numbers.map(unmarked));
            rows.push(row);
        }
    }
    Table {
        caption: "Hours by month of every year".into(),
        headers: headers(&["year", "month"], &["travel days"]),
        rows,
    }
}

/// What a stepped cost follows, in words.
pub fn stepped_by(of: SteppedBy) -> &'static str {
    match of {
        SteppedBy::TravelDays => "travel days",
        SteppedBy::FieldHours => "hours of travel and field",
        SteppedBy::LaboratoryHours => "laboratory hours",
    }
}

/// When a stepped cost is paid, in words.
pub fn paid(paid: Paid) -> &'static str {
    match paid {
        Paid::Once => "once",
        Paid::Yearly => "every year",
    }
}

/// What a sample is, in words.
pub fn sample(sample: Sample) -> &'static str {
    match sample {
        Sample::Trap => "one trap's week",
        Sample::Site => "a site's week, its traps pooled",
    }
}

/// Which step a stepped cost is at, and how far the next is.
pub fn stepped(s: &SteppedCost, currency: &str) -> String {
    format!(
        "{}: {} needed, {} in all years; the busiest month has {} {}, and up to {} more need no further one.",
        s.name,
        plain(s.needed),
        money(s.money, currency),
        count(s.busiest_month),
        stepped_by(s.of),
        count((s.needed * s.takes_on - s.busiest_month).max(0.0))
    )
}

/// Months with more work than staff have hours, in one sentence for each staff; nothing where none is stated or all
/// fit.
pub fn over_staff(cost: &PlanCost) -> Vec<String> {
    let of = |which: Staff, name: &str| {
        let over: Vec<_> = cost
            .over_staff
            .iter()
            .filter(|o| o.staff == which)
            .collect();
        let worst = over
            .iter()
            .copied()
            .reduce(|a, b| if b.hours > a.hours { b } else { a })?;
        let months = match over.len() {
            1 => "1 month has".into(),
            n => format!("{n} months have"),
        };
        Some(format!(
            "{months} more work for {name} than the {} hours it has; the most, {} hours, in {} of year {}.",
            count(worst.available),
            count(worst.hours),
            month(worst.month),
            worst.year
        ))
    };
    [
        of(Staff::Field, "the staff for travel and field"),
        of(Staff::Laboratory, "the staff of the laboratory"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// How many of the costs that are stated are without a source, in one sentence.
pub fn unsourced(scenario: &Scenario) -> Option<String> {
    let costs = scenario.premises.costs.as_ref()?;
    // What is left out of the file is not stated.
    let mut bare = scenario.clone();
    let none = Premise::new(0.0, Source::Guess);
    bare.premises.costs = Some(Costs::new("", none));
    let premises = survey::scenario::fields::COSTS.iter().filter_map(|f| {
        let premise = f.premise?;
        // A number that is not stated and not 0 is used all the same, as a guess.
        premise(scenario).filter(|p| premise(&bare) != Some(*p) || p.value != 0.0)
    });
    let stepped = costs.stepped.iter().flat_map(|s| [&s.takes_on, &s.money]);
    let (mut guess, mut common, mut all) = (0, 0, 0);
    for p in premises.chain(stepped) {
        all += 1;
        match p.source {
            Source::Guess => guess += 1,
            Source::CommonPractice => common += 1,
            Source::Pilot | Source::Published | Source::Invented => {}
        }
    }
    (guess + common > 0).then(|| {
        format!(
            "Rates without a source: {guess} guessed and {common} common practice, of {all}. Replace them by your own."
        )
    })
}

/// Hours by month of the busiest year against staff, as a picture; `None` where there is no work.
pub fn figure(scenario: &Scenario, cost: &PlanCost) -> Option<StackedBars> {
    let costs = scenario.premises.costs.as_ref()?;
    let year = cost.busiest_year()?;
    let side = |parts: &[&str], total: &str, name: &str, limit: f64| Side {
        parts: parts.iter().map(|p| (*p).into()).collect(),
        total: total.into(),
        limit: (limit > 0.0).then(|| (name.into(), limit)),
    };
    let stacks = (1..=12).map(|number| {
        let found = year.months.iter().find(|m| m.month == number);
        let h = found.map(|m| m.hours).unwrap_or_default();
        Stack {
            label: month(number).chars().take(3).collect(),
            sizes: vec![
                vec![h.travel, h.field],
                vec![h.sorting, h.identification, h.curation],
            ],
        }
    });
    Some(StackedBars {
        id: "cost-months".into(),
        title: format!("Hours by month of year {}, the busiest", year.year),
        show_title: true,
        description: format!(
            "Plan: {}. {}.",
            sentences::plan(&scenario.plan),
            phrase(scenario, &cost.total)
        ),
        x_label: "month".into(),
        y_label: "person-hours".into(),
        sides: vec![
            side(
                &["travel", "field"],
                "travel and field",
                "field staff",
                costs.field_staff_hours.value,
            ),
            side(
                &["sorting", "identification", "curation"],
                "laboratory",
                "laboratory staff",
                costs.laboratory_staff_hours.value,
            ),
        ],
        stacks: stacks.collect(),
        width: 760.0,
        height: 380.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::cost::expected_cost;
    use survey::scenario::{Stepped, read};

    fn told() -> (survey::scenario::Checked, PlanCost) {
        let mut s = read(include_str!("../../../demo-data/meadow-no-worse.json")).unwrap();
        let mut c = Costs::usual();
        c.currency = "marks".into();
        c.laboratory_staff_hours = Premise::new(50.0, Source::Guess);
        c.stepped = vec![Stepped::usual()];
        s.premises.costs = Some(c);
        let s = s.check().unwrap();
        let cost = expected_cost(&s, &s.plan).unwrap();
        (s, cost)
    }

    #[test]
    fn tables_are_even_and_name_the_currency() {
        let (s, cost) = told();
        let year = cost.busiest_year().unwrap();
        let costs = s.premises.costs.as_ref().unwrap();
        let tables = [by_month(costs, year), by_year(&cost), all_months(&cost)];
        for t in &tables {
            assert!(!t.rows.is_empty());
            assert!(t.rows.iter().all(|r| r.len() == t.headers.len()), "{t:?}");
        }
        assert!(tables[1].headers.contains(&"all money, marks".to_string()));
        assert_eq!(tables[1].rows.len(), cost.years.len() + 1);
        assert!(phrase(&s, &cost.total).ends_with(" marks"));
    }

    #[test]
    fn what_is_over_and_what_is_guessed() {
        let (s, cost) = told();
        let over = over_staff(&cost);
        assert_eq!(over.len(), 1, "no field staff is stated: {over:?}");
        assert!(over[0].contains("laboratory than the 50 hours"), "{over:?}");
        let said = unsourced(&s).unwrap();
        assert!(said.contains("2 common practice"), "{said}");
        assert!(stepped(&cost.stepped[0], "marks").starts_with("vehicle: 1 needed, "));
        let f = figure(&s, &cost).unwrap();
        assert_eq!(f.sides[0].limit, None);
        assert_eq!(f.sides[1].limit, Some(("laboratory staff".into(), 50.0)));
    }
}
