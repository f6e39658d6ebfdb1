//! Futures as small multiples: each simulated survey with its stamp.

use crate::number::percent;
use crate::sentences;
use figures::{Panel, Row, Shape, SmallMultiples};
use survey::futures::{Beside, Future, Futures, Shown, Stamp};
use survey::scenario::{Effect, Plan, Scenario};

/// A stamp's word.
fn word(scenario: &Scenario, stamp: Stamp) -> &'static str {
    if let Effect::Baseline(_) = scenario.question.effect {
        return match stamp {
            Stamp::Found => "close enough",
            Stamp::Missed | Stamp::WrongWay => "too wide",
            Stamp::FalseAlarm => "misses",
            Stamp::Quiet => "holds",
        };
    }
    if let Effect::Inventory(_) = scenario.question.effect {
        return match stamp {
            Stamp::Found => "recorded",
            Stamp::Missed | Stamp::WrongWay => "short",
            Stamp::FalseAlarm => "false claim",
            Stamp::Quiet => "no false claim",
        };
    }
    if let Effect::Absence(_) = scenario.question.effect {
        return match stamp {
            Stamp::Found | Stamp::WrongWay | Stamp::FalseAlarm => "caught",
            Stamp::Missed | Stamp::Quiet => "none caught",
        };
    }
    let claims = !scenario.question.effect.has_two_sides();
    match stamp {
        Stamp::Found if claims => "claimed",
        Stamp::Missed if claims => "not claimed",
        Stamp::FalseAlarm if claims => "false claim",
        Stamp::Quiet if claims => "not claimed",
        Stamp::Found => "found",
        Stamp::Missed => "missed",
        Stamp::WrongWay => "wrong way",
        Stamp::FalseAlarm => "false alarm",
        Stamp::Quiet => "quiet",
    }
}

fn shape(stamp: Stamp) -> Shape {
    match stamp {
        Stamp::Found => Shape::Disc,
        Stamp::Missed => Shape::Ring,
        Stamp::WrongWay | Stamp::FalseAlarm => Shape::Cross,
        Stamp::Quiet => Shape::Bar,
    }
}

/// What the values are, and the names of the lines.
fn names(scenario: &Scenario, shown: Shown) -> (String, Vec<String>) {
    let target = &scenario.premises.target.name;
    let catch = format!("{target} a trap-week");
    match shown {
        Shown::Catch => (catch, vec!["mean catch".into()]),
        Shown::CatchOfGroups => (
            catch,
            vec!["treated sites".into(), "other sites (dashed)".into()],
        ),
        Shown::Place => {
            let unit = scenario
                .premises
                .gradient
                .as_ref()
                .map_or("m", |g| g.unit.symbol());
            (
                format!("mean place of the catch, {unit}"),
                vec!["place".into()],
            )
        }
        Shown::SitesWithCatch => ("share of sites with a catch".into(), vec!["share".into()]),
        Shown::Caught => ("animals caught".into(), vec!["caught".into()]),
    }
}

fn panel(scenario: &Scenario, f: &Future) -> Panel {
    let line = |l: &Vec<Option<f64>>| l.iter().map(|v| v.unwrap_or(f64::NAN)).collect();
    Panel {
        name: f.number.to_string(),
        stamp: word(scenario, f.stamp).into(),
        shape: shape(f.stamp),
        lines: f.lines.iter().map(line).collect(),
    }
}

/// The figure of some surveys of both worlds.
pub fn futures_figure(scenario: &Scenario, futures: &Futures) -> SmallMultiples {
    let row = |heading: String, surveys: &[Future]| Row {
        name: heading.clone(),
        heading,
        panels: surveys.iter().map(|f| panel(scenario, f)).collect(),
    };
    let years = futures
        .change
        .first()
        .map_or(0, |f| f.lines.first().map_or(0, Vec::len));
    let (value_label, line_names) = names(scenario, futures.shown);
    SmallMultiples {
        id: "futures".into(),
        title: format!(
            "{} simulated surveys of this plan in each world",
            futures.change.len()
        ),
        show_title: true,
        description: sentences::futures(scenario, futures),
        value_label: if line_names.len() > 1 {
            format!("{value_label}, {}", line_names.join(" and "))
        } else {
            value_label
        },
        line_names,
        places: (1..=years).map(|y| format!("year {y}")).collect(),
        from_zero: futures.shown != Shown::Place,
        rows: vec![
            row(sentences::with_effect(scenario).into(), &futures.change),
            row(sentences::without_effect(scenario).into(), &futures.still),
        ],
        width: 760.0,
    }
}

/// Some plan's surveys beside those of others.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanFutures {
    /// How it stands to the present plan; `None` for that plan itself.
    pub beside: Option<Beside>,
    /// The plan.
    pub plan: Plan,
    /// Its surveys.
    pub futures: Futures,
}

/// What a plan beside the present one is called.
pub fn beside(of: Option<Beside>) -> &'static str {
    match of {
        None => "this plan",
        Some(Beside::Smaller) => "fewer sites",
        Some(Beside::Least) => "the least plan",
        Some(Beside::Larger) => "more sites",
    }
}

/// How a plan does among its first `shown` surveys and among all, and what it takes.
fn card(scenario: &Scenario, p: &PlanFutures, shown: usize) -> String {
    let shown = &p.futures.change[..shown.min(p.futures.change.len())];
    let toll = p.futures.toll.map_or(String::new(), |t| {
        format!(", killing {}", crate::number::count(t))
    });
    let cost = p.futures.cost.as_ref().map_or(String::new(), |c| {
        format!("; {}", crate::cost::phrase(scenario, c))
    });
    format!(
        "{} ({} sites, {} years), {}: {} of {} {}; of 100 like this {:.0} ({} {}){toll}{cost}",
        beside(p.beside),
        p.plan.sites,
        p.plan.years,
        sentences::with_effect(scenario),
        stamped(shown, Stamp::Found),
        shown.len(),
        word(scenario, Stamp::Found),
        100.0 * p.futures.power.estimate,
        sentences::false_alarms(scenario),
        percent(p.futures.false_alarm.estimate)
    )
}

/// The same surveys under several plans: the first `shown` of each with the effect, and of the present plan without it. The
/// random numbers are the same under each plan, as far as the plans have the same sites and years. `None` without the
/// present plan.
pub fn futures_beside(
    scenario: &Scenario,
    plans: &[PlanFutures],
    shown: usize,
) -> Option<SmallMultiples> {
    let one = plans.iter().find(|p| p.beside.is_none())?;
    let mut figure = futures_figure(scenario, &one.futures);
    let panels = |surveys: &[Future]| -> Vec<Panel> {
        let first = surveys.iter().take(shown);
        first.map(|f| panel(scenario, f)).collect()
    };
    let mut rows: Vec<Row> = plans
        .iter()
        .map(|p| Row {
            heading: card(scenario, p, shown),
            name: format!("{}, {}", beside(p.beside), sentences::with_effect(scenario)),
            panels: panels(&p.futures.change),
        })
        .collect();
    let still = &one.futures.still;
    let quiet = &still[..shown.min(still.len())];
    rows.push(Row {
        name: format!("this plan, {}", sentences::without_effect(scenario)),
        heading: format!(
            "this plan, {}: {} of {} {}; of 100 like this {:.0}",
            sentences::without_effect(scenario),
            stamped(quiet, Stamp::FalseAlarm),
            quiet.len(),
            sentences::false_alarms(scenario),
            100.0 * one.futures.false_alarm.estimate
        ),
        panels: panels(still),
    });
    let years = plans
        .iter()
        .flat_map(|p| p.futures.change.iter())
        .filter_map(|f| f.lines.first().map(Vec::len))
        .max();
    figure.places = (1..=years.unwrap_or(0))
        .map(|y| format!("year {y}"))
        .collect();
    figure.title = format!("The same {shown} surveys under {} plans", plans.len());
    figure.description = rows.iter().map(|r| format!("{}. ", r.heading)).collect();
    figure.rows = rows;
    Some(figure)
}

/// How many of the shown surveys have a stamp.
pub(crate) fn stamped(surveys: &[Future], stamp: Stamp) -> usize {
    surveys.iter().filter(|f| f.stamp == stamp).count()
}

/// The sentence beside the figure.
pub(crate) fn sentence(scenario: &Scenario, f: &Futures) -> String {
    let n = f.change.len();
    let (found, wrong) = (
        stamped(&f.change, Stamp::Found),
        stamped(&f.change, Stamp::WrongWay),
    );
    let false_ones = stamped(&f.still, Stamp::FalseAlarm);
    let wrong = match wrong {
        0 => String::new(),
        1 => " and 1 sees the opposite".into(),
        n => format!(" and {n} see the opposite"),
    };
    let verb = |n: usize, of_one: &'static str, of_more: &'static str| {
        if n == 1 { of_one } else { of_more }
    };
    if let Effect::Baseline(_) = scenario.question.effect {
        return format!(
            "Of these {n} surveys {found} {} the mean as closely as wanted (of all simulated ones {}); of as many others the interval of {false_ones} misses the truth (of all {}). They are the first {n} of those behind the answer, not chosen.",
            verb(found, "knows", "know"),
            percent(f.power.estimate),
            percent(f.false_alarm.estimate)
        );
    }
    if let Effect::Inventory(_) = scenario.question.effect {
        return format!(
            "Of these {n} surveys {found} {} the wanted share (of all simulated ones {}); of as many others {false_ones} {} it falsely (of all {}). They are the first {n} of those behind the answer, not chosen.",
            verb(found, "records", "record"),
            percent(f.power.estimate),
            verb(false_ones, "claims", "claim"),
            percent(f.false_alarm.estimate)
        );
    }
    if let Effect::Absence(_) = scenario.question.effect {
        return format!(
            "Of these {n} surveys {found} {} at least one, if they are there at that density (of all simulated ones {}); where none are there, none can be caught. They are the first {n} of those behind the answer, not chosen.",
            verb(found, "catches", "catch"),
            percent(f.power.estimate)
        );
    }
    let claims = !scenario.question.effect.has_two_sides();
    let (do_it, falsely) = if claims {
        (
            "may make the claim",
            verb(false_ones, "makes it all the same", "make it all the same"),
        )
    } else {
        (
            verb(found, "finds it", "find it"),
            verb(false_ones, "raises a false alarm", "raise a false alarm"),
        )
    };
    format!(
        "Of these {n} surveys {found} {do_it}{wrong} (of all simulated ones {}); of as many {} {false_ones} {falsely} (of all {}). They are the first {n} of those behind the answer, not chosen.",
        percent(f.power.estimate),
        sentences::without_effect(scenario),
        percent(f.false_alarm.estimate)
    )
}
