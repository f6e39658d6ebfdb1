//! Which questions, sites and years a revisit pattern, drop-out and late samples go with.

use super::check::Fault;
use super::{Effect, Known, Revisit, Scenario, Seasons, Test};

fn bound(path: &str, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path: path.into(),
        value: value.to_string(),
        bound: bound.into(),
    }
}

/// Adds the faults of pattern and gaps.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    returns(s, faults);
    if s.plan.all_every_year() {
        return;
    }
    let path = if s.plan.revisit.is_some() {
        "plan.revisit"
    } else {
        "plan.gap_years"
    };
    if let Some(why) = refused(s) {
        faults.push(Fault::Shape {
            path: path.into(),
            problem: format!("{why}: remove it"),
        });
        return;
    }
    // Nothing more is said of numbers that are out of their own bounds.
    if !(2..=2000).contains(&s.plan.sites) || !(1..=60).contains(&s.plan.years) {
        return;
    }
    if gaps(s, faults) && turns(s, faults) {
        sites(s, faults);
    }
    if s.analysis.knows.contains(&Known::SiteSlopes) && !s.plan.comes_back() {
        faults.push(Fault::Shape {
            path: "analysis.knows".into(),
            problem: "site_slopes are not seen where no site is visited in a second year, as with this plan.revisit: leave it out".into(),
        });
    }
    if s.analysis.test == Test::AnnualIndex && !s.plan.years_hang_together() {
        faults.push(Fault::Shape {
            path: "analysis.test".into(),
            problem: "annual_index needs sites that its years have in common, which this plan.revisit does not give: choose another test or pattern".into(),
        });
    }
}

/// Adds the faults of sites that drop out and of late samples.
fn returns(s: &Scenario, faults: &mut Vec<Fault>) {
    let (p, e) = (&s.premises, &s.question.effect);
    let seasons = s.plan.visits.as_ref().map(|v| v.seasons);
    let counted_alike = match e {
        Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => Some(e.key()),
        Effect::RangeShift(r) if !r.of.is_optimum() => Some("range_shift of an edge"),
        _ => None,
    };
    for (path, value, why) in [
        (
            "premises.attrition.value",
            p.attrition.value,
            counted_alike
                .map(|key| format!("0 with the question {key}: plan for the sites that are left"))
                .or_else(|| {
                    (seasons == Some(Seasons::FirstAndLast)).then(|| {
                        "0 with plan.visits.seasons first_and_last: plan for the sites that are left in the last year".into()
                    })
                }),
        ),
        (
            "premises.late_share.value",
            p.late_share.value,
            counted_alike
                .map(|key| format!("0 with the question {key}: plan for the site-years that are back in time")),
        ),
    ] {
        if let Some(why) = why.filter(|_| value > 0.0) {
            faults.push(bound(path, value, why));
        }
    }
}

/// Why the question takes no pattern.
fn refused(s: &Scenario) -> Option<&'static str> {
    let (plan, e) = (&s.plan, &s.question.effect);
    let first_and_last = plan.visits.as_ref().map(|v| v.seasons) == Some(Seasons::FirstAndLast);
    match e {
        Effect::Absence(_) => {
            Some("a claim of absence counts every visit alike, whatever the pattern")
        }
        Effect::Baseline(_) => Some("a baseline is the mean of the same sites in all years"),
        Effect::Inventory(_) => Some("an inventory counts every visit alike, whatever the pattern"),
        Effect::RangeShift(r) if !r.of.is_optimum() => Some(
            "the move of an edge is looked for at the same sites every year; a pattern goes with the move of an optimum",
        ),
        Effect::RangeShift(_) if s.premises.departures.correlation_length_km.value > 0.0 => Some(
            "sites along a gradient that resemble their neighbours have no preview with a pattern",
        ),
        Effect::Occupancy(_) if first_and_last => {
            Some("plan.visits.seasons first_and_last says already when sites are visited")
        }
        _ => None,
    }
}

/// Whether the gaps are years that can be left out.
fn gaps(s: &Scenario, faults: &mut Vec<Fault>) -> bool {
    let (years, before) = (s.plan.years, faults.len());
    for (i, gap) in s.plan.gap_years.iter().enumerate() {
        let path = format!("plan.gap_years[{i}]");
        if *gap < 2 || *gap >= years {
            faults.push(bound(
                &path,
                gap,
                format!(
                    "a year between the first and the last, 2 to {}: without its first or last year the survey is a shorter one",
                    years.saturating_sub(1)
                ),
            ));
        } else if s.plan.gap_years[..i].iter().any(|g| g >= gap) {
            faults.push(bound(
                &path,
                gap,
                "a later year than the one before it in the list",
            ));
        }
    }
    faults.len() == before
}

/// Whether there are years enough.
fn turns(s: &Scenario, faults: &mut Vec<Fault>) -> bool {
    let (turns, before) = (s.plan.turns(), faults.len());
    let needed = match s.question.effect {
        Effect::BeforeAfter(_) => 2,
        Effect::Difference(_) => 1,
        _ => s.fewest_years(),
    };
    if turns < needed {
        faults.push(bound(
            "plan.years",
            s.plan.years,
            format!("more years: {turns} of these are trapped in, and the question needs {needed}"),
        ));
    }
    if let (Effect::BeforeAfter(_), Some(g)) = (&s.question.effect, &s.plan.groups)
        && !(g.before_years..s.plan.years).any(|y| s.plan.traps_in(y))
    {
        faults.push(bound(
            "plan.groups.before_years",
            g.before_years,
            "a number of years after which there is still a year of trapping",
        ));
    }
    let (path, value, what) = match s.plan.revisit {
        Some(Revisit::Alternating { panels }) => {
            ("plan.revisit.alternating.panels", panels, "panels")
        }
        Some(Revisit::Augmented { panels, .. }) => {
            ("plan.revisit.augmented.panels", panels, "panels")
        }
        Some(Revisit::Rotating { stay }) => ("plan.revisit.rotating.stay", stay, "years"),
        _ => return faults.len() == before,
    };
    if value > turns {
        faults.push(bound(
            path,
            value,
            format!("at most {turns} {what}, as many as there are years of trapping"),
        ));
    }
    faults.len() == before
}

/// Whether the sites can be divided.
fn sites(s: &Scenario, faults: &mut Vec<Fault>) {
    let (plan, Some(revisit)) = (&s.plan, s.plan.revisit) else {
        return;
    };
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    if paired && !revisit.always().is_multiple_of(2) {
        faults.push(bound(
            &format!("plan.revisit.{}.always", revisit.key()),
            revisit.always(),
            "an even number: paired sites come in twos",
        ));
        return;
    }
    let (fewest, step) = (plan.fewest_for_pattern(), plan.pattern_step());
    if !plan.fits_pattern(plan.sites) {
        let over = plan.sites.saturating_sub(fewest);
        let below = fewest + over / step * step;
        let above = below + step;
        let nearest = if plan.sites < fewest {
            format!("{fewest}")
        } else {
            format!("{below} or {above}")
        };
        let always = match revisit.always() {
            0 => String::new(),
            n => format!("{n} sites visited every year and "),
        };
        faults.push(bound(
            "plan.sites",
            plan.sites,
            format!(
                "{nearest}: all different sites of all years together, {always}a multiple of {step} divided into panels of equal size"
            ),
        ));
    }
    if s.limits.sites < fewest {
        faults.push(bound(
            "limits.sites",
            s.limits.sites,
            format!("at least {fewest} sites, the fewest that plan.revisit can be made of"),
        ));
    }
}
