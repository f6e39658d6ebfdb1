//! The tables of planned looks.

use super::tidy;
use crate::number::{count, decimals, percent};
use crate::sentences::{class, with_effect};
use figures::Table;
use survey::scenario::{Class, Scenario};
use survey::summary::{LookTold, LooksAnswer, Share, Spared};

/// One line a look: lines on both scales, and the chance to stop there in both worlds.
pub fn looks_table(scenario: &Scenario, a: &LooksAnswer) -> Table {
    let futility = a.plan.looks.as_ref().is_some_and(|l| l.futility.is_some());
    let with = with_effect(scenario);
    let mut headers: Vec<String> = [
        "after year",
        "information",
        "line on z",
        "nominal p",
        "df",
        "line on t",
    ]
    .map(Into::into)
    .to_vec();
    if futility {
        headers.push("futility on t".into());
    }
    headers.extend([
        format!("stops, found, {with}"),
        "stops, found, otherwise".into(),
    ]);
    if futility {
        headers.extend([
            format!("stops, futile, {with}"),
            "stops, futile, otherwise".into(),
        ]);
    }
    let row = |l: &LookTold| {
        let mut cells = vec![
            l.lines.year.to_string(),
            percent(l.lines.information),
            decimals(l.lines.z, 3),
            nominal(l.lines.nominal),
            l.lines.df.map_or("—".into(), |df| format!("{df:.0}")),
            tidy(l.lines.t),
        ];
        if futility {
            cells.push(l.lines.futility_t.map_or("—".into(), tidy));
        }
        let chance = |s: &Share, preview: f64| chance(s, preview);
        cells.push(chance(&l.change.found, l.preview_change.found));
        cells.push(chance(&l.still.found, l.preview_still.found));
        if futility {
            cells.push(chance(&l.change.futile, l.preview_change.futile));
            cells.push(chance(&l.still.futile, l.preview_still.futile));
        }
        cells
    };
    Table {
        caption: "The looks: chances are simulated, in brackets by closed form".into(),
        headers,
        rows: a.looks.iter().map(row).collect(),
    }
}

fn nominal(p: f64) -> String {
    if p < 0.000_05 {
        return format!("below {}", decimals(1e-4, 4));
    }
    decimals(p, 4)
}

fn chance(s: &Share, preview: f64) -> String {
    let preview = percent(preview);
    if s.replicates == 0 {
        return format!("({preview})");
    }
    format!("{} ({preview})", percent(s.estimate))
}

/// The columns of what is spared in both worlds.
fn spared_headers(of: &str, with: &str) -> Vec<String> {
    vec![
        of.into(),
        format!("without looks, {with}"),
        "with looks".into(),
        "spared".into(),
        "without looks, otherwise".into(),
        "with looks".into(),
        "spared".into(),
    ]
}

fn spared_row(name: String, change: &Spared, still: &Spared) -> Vec<String> {
    let of = |s: &Spared| [count(s.fixed), count(s.with_looks), count(s.spared)];
    std::iter::once(name)
        .chain(of(change))
        .chain(of(still))
        .collect()
}

/// What is killed with and without looks, in both worlds; `None` before the first simulated surveys.
pub fn toll_table(scenario: &Scenario, a: &LooksAnswer) -> Option<Table> {
    let (change, still) = (a.change.toll.as_ref()?, a.still.toll.as_ref()?);
    let with = with_effect(scenario);
    let mut rows: Vec<Vec<String>> = vec![spared_row(
        format!("{} (target)", scenario.premises.target.name),
        &change.target,
        &still.target,
    )];
    rows.extend(change.bycatch.iter().zip(&still.bycatch).map(|(c, s)| {
        let name = match c.class {
            Class::Arthropod => c.group.clone(),
            other => format!("{} ({})", c.group, class(other)),
        };
        spared_row(name, &c.animals, &s.animals)
    }));
    rows.push(spared_row(
        "all animals".into(),
        &change.total,
        &still.total,
    ));
    Some(Table {
        caption: "Animals killed, means over simulated surveys".into(),
        headers: spared_headers("group", with),
        rows,
    })
}

/// What is paid and worked with and without looks, in both worlds; `None` without costs or simulated surveys.
pub fn cost_table(scenario: &Scenario, a: &LooksAnswer) -> Option<Table> {
    let (change, still) = (a.change.cost.as_ref()?, a.still.cost.as_ref()?);
    let with = with_effect(scenario);
    Some(Table {
        caption: "Expected costs over all years".into(),
        headers: spared_headers("cost", with),
        rows: vec![
            spared_row(
                format!("money ({})", crate::cost::currency(scenario)),
                &change.money,
                &still.money,
            ),
            spared_row("person-hours".into(), &change.hours, &still.hours),
        ],
    })
}

/// The looks as CSV, one number a cell.
pub fn csv(a: &LooksAnswer) -> String {
    let headers = [
        "year",
        "information",
        "line_z",
        "nominal_p",
        "df",
        "line_t",
        "futility_z",
        "futility_t",
        "found_change",
        "found_change_low",
        "found_change_high",
        "found_still",
        "found_still_low",
        "found_still_high",
        "futile_change",
        "futile_still",
        "preview_found_change",
        "preview_found_still",
        "preview_futile_change",
        "preview_futile_still",
    ];
    let number = |v: f64| {
        if v.is_finite() {
            v.to_string()
        } else {
            String::new()
        }
    };
    let option = |v: Option<f64>| v.map_or(String::new(), number);
    let row = |l: &LookTold| {
        let (c, s) = (&l.change, &l.still);
        let mut cells = vec![
            l.lines.year.to_string(),
            number(l.lines.information),
            number(l.lines.z),
            number(l.lines.nominal),
            option(l.lines.df),
            number(l.lines.t),
            option(l.lines.futility_z),
            option(l.lines.futility_t),
        ];
        for share in [&c.found, &s.found] {
            cells.extend([share.estimate, share.low, share.high].map(number));
        }
        cells.extend(
            [
                c.futile.estimate,
                s.futile.estimate,
                l.preview_change.found,
                l.preview_still.found,
                l.preview_change.futile,
                l.preview_still.futile,
            ]
            .map(number),
        );
        cells
    };
    Table {
        caption: String::new(),
        headers: headers.map(Into::into).to_vec(),
        rows: a.looks.iter().map(row).collect(),
    }
    .csv()
}
