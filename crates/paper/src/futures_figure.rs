//! Futures as small multiples: each simulated survey with its stamp.

use crate::number::percent;
use crate::sentences;
use figures::{Panel, Row, Shape, SmallMultiples};
use survey::futures::{Future, Futures, Shown, Stamp};
use survey::scenario::{Effect, Scenario};

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

/// The figure of some surveys of both worlds.
pub fn futures_figure(scenario: &Scenario, futures: &Futures) -> SmallMultiples {
    let panel = |f: &Future| Panel {
        name: f.number.to_string(),
        stamp: word(scenario, f.stamp).into(),
        shape: shape(f.stamp),
        lines: f
            .lines
            .iter()
            .map(|l| l.iter().map(|v| v.unwrap_or(f64::NAN)).collect())
            .collect(),
    };
    let row = |heading: String, surveys: &[Future]| Row {
        heading,
        panels: surveys.iter().map(panel).collect(),
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
    let wrong = if wrong > 0 {
        format!(" and {wrong} see the opposite")
    } else {
        String::new()
    };
    if let Effect::Baseline(_) = scenario.question.effect {
        return format!(
            "Of these {n} surveys {found} know the mean as closely as wanted (of all simulated ones {}); of as many others the interval of {false_ones} misses the truth (of all {}). They are the first {n} of those behind the answer, not chosen.",
            percent(f.power.estimate),
            percent(f.false_alarm.estimate)
        );
    }
    if let Effect::Inventory(_) = scenario.question.effect {
        return format!(
            "Of these {n} surveys {found} record the wanted share (of all simulated ones {}); of as many others {false_ones} claim it falsely (of all {}). They are the first {n} of those behind the answer, not chosen.",
            percent(f.power.estimate),
            percent(f.false_alarm.estimate)
        );
    }
    let claims = !scenario.question.effect.has_two_sides();
    let (do_it, falsely) = if claims {
        ("may make the claim", "make it all the same")
    } else {
        ("find it", "raise a false alarm")
    };
    format!(
        "Of these {n} surveys {found} {do_it}{wrong} (of all simulated ones {}); of as many {} {false_ones} {falsely} (of all {}). They are the first {n} of those behind the answer, not chosen.",
        percent(f.power.estimate),
        sentences::without_effect(scenario),
        percent(f.false_alarm.estimate)
    )
}
