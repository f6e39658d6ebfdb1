//! What a question needs of premises, plan and analysis, and what does not belong to it.

use super::check::Fault;
use super::{Direction, Effect, Scenario, Seasons, StopRule};

fn shape(path: &str, problem: impl Into<String>) -> Fault {
    Fault::Shape {
        path: path.into(),
        problem: problem.into(),
    }
}

fn bound(path: &str, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path: path.into(),
        value: value.to_string(),
        bound: bound.into(),
    }
}

/// Adds the faults of how question, premises and plan fit together.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    parts(s, faults);
    let effect = &s.question.effect;
    if !effect.has_two_sides() && s.question.direction == Direction::Either {
        faults.push(shape(
            "question.direction",
            match effect {
                Effect::Baseline(_) => {
                    "a baseline looks for no change either way: set it to stated".into()
                }
                _ => format!(
                    "the claim of {} has one side only: set it to stated",
                    effect.key()
                ),
            },
        ));
    }
    match effect {
        Effect::Decline(_) => {}
        Effect::NoWorse(n) => {
            if n.change_percent >= n.margin_percent {
                faults.push(bound(
                    "question.effect.no_worse.change_percent",
                    n.change_percent,
                    format!(
                        "a fall below question.effect.no_worse.margin_percent, {}: else the claim is false",
                        n.margin_percent
                    ),
                ));
            }
        }
        Effect::Difference(d) => not_zero(
            "question.effect.difference.difference_percent",
            d.difference_percent,
            "a difference other than 0",
            faults,
        ),
        Effect::BeforeAfter(b) => not_zero(
            "question.effect.before_after.change_percent",
            b.change_percent,
            "a change other than 0",
            faults,
        ),
        Effect::RangeShift(r) => {
            not_zero(
                "question.effect.range_shift.distance_per_decade",
                r.distance_per_decade,
                "a distance other than 0",
                faults,
            );
            if s.by_occupancy() {
                two_visits(s, faults);
            }
        }
        Effect::Occupancy(o) => {
            two_visits(s, faults);
            if let Some(p) = &s.premises.occupancy
                && o.to_share == p.occupied.value
            {
                faults.push(bound(
                    "question.effect.occupancy.to_share",
                    o.to_share,
                    format!(
                        "a share other than premises.occupancy.occupied, {}",
                        p.occupied.value
                    ),
                ));
            }
        }
        Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => {}
    }
    stop_rule(s, faults);
    if let Some(t) = s.plan.transect.as_ref().filter(|t| t.highest <= t.lowest) {
        faults.push(bound(
            "plan.transect.highest",
            t.highest,
            format!("a position above plan.transect.lowest, {}", t.lowest),
        ));
    }
    years(s, faults);
    sites(s, faults);
    groups(s, faults);
}

/// Occupancy under imperfect detection takes more than one visit.
fn two_visits(s: &Scenario, faults: &mut Vec<Fault>) {
    for (path, weeks) in [
        ("plan.weeks", s.plan.weeks),
        ("limits.weeks", s.limits.weeks),
    ] {
        if weeks == 1 {
            faults.push(bound(
                path,
                weeks,
                "at least 2 weeks: with one visit a year occupancy cannot be told from detection",
            ));
        }
    }
}

fn not_zero(path: &str, value: f64, wanted: &str, faults: &mut Vec<Fault>) {
    if value == 0.0 {
        faults.push(bound(path, value, wanted));
    }
}

/// Parts that some questions need and others have no use for.
fn parts(s: &Scenario, faults: &mut Vec<Fault>) {
    let e = &s.question.effect;
    let (shift, groups) = (matches!(e, Effect::RangeShift(_)), e.has_groups());
    let occupancy = matches!(e, Effect::Occupancy(_));
    let paired = groups && s.plan.groups.as_ref().is_some_and(|g| g.paired);
    let (p, plan) = (&s.premises, &s.plan);
    let gradient = |has: fn(&super::Gradient) -> bool| p.gradient.as_ref().is_some_and(has);
    let (bell, edge) = match e {
        Effect::RangeShift(r) if p.gradient.is_some() => (r.of.is_optimum(), !r.of.is_optimum()),
        // Nothing is said of what a gradient lacks that does not belong there.
        _ => (
            gradient(|g| g.optimum.is_some() || g.tolerance.is_some()),
            gradient(|g| g.edge.is_some()),
        ),
    };
    for (path, there, wanted, what, needs) in [
        (
            "premises.gradient",
            p.gradient.is_some(),
            shift,
            "a gradient belongs to the range-shift question: remove it or ask for a range_shift",
            "the range-shift question needs unit, and optimum with tolerance or edge",
        ),
        (
            "premises.gradient.optimum",
            gradient(|g| g.optimum.is_some()),
            bell,
            "an optimum belongs to the question of its move: remove it or set question.effect.range_shift.of to optimum",
            "the move of an optimum needs its place in the first year",
        ),
        (
            "premises.gradient.tolerance",
            gradient(|g| g.tolerance.is_some()),
            bell,
            "a tolerance belongs to the move of an optimum: remove it or set question.effect.range_shift.of to optimum",
            "the move of an optimum needs the SD of the bell curve along the gradient",
        ),
        (
            "premises.gradient.edge",
            gradient(|g| g.edge.is_some()),
            edge,
            "an edge belongs to the question of its move: remove it or set question.effect.range_shift.of to upper_edge or lower_edge",
            "the move of an edge needs its place in the first year and its width",
        ),
        (
            "plan.transect",
            plan.transect.is_some(),
            shift,
            "a transect belongs to the range-shift question: remove it or ask for a range_shift",
            "the range-shift question needs lowest and highest",
        ),
        (
            "plan.groups",
            plan.groups.is_some(),
            groups,
            "groups belong to the questions difference and before_after: remove them or ask one of these",
            "this question needs the share of treated sites: give treated_share",
        ),
        (
            "premises.pair_correlation",
            p.pair_correlation.is_some(),
            paired,
            "a pair_correlation belongs to paired sites: remove it or set plan.groups.paired",
            "paired sites need what they have in common: give a share from 0 to 0.99",
        ),
        (
            "premises.occupancy",
            p.occupancy.is_some(),
            occupancy,
            "occupied sites belong to the occupancy question: remove them or ask for occupancy",
            "the occupancy question needs occupied and left_each_year",
        ),
        (
            "plan.visits",
            plan.visits.is_some(),
            occupancy,
            "visits belong to the occupancy question: remove them or ask for occupancy",
            "the occupancy question needs scheme and seasons",
        ),
        (
            "premises.community",
            p.community.is_some(),
            matches!(e, Effect::Inventory(_)),
            "a community belongs to the inventory question: remove it or ask for an inventory",
            "the inventory question needs what a pilot found: give strata or incidences",
        ),
    ] {
        if there && !wanted {
            faults.push(shape(path, what));
        }
        if wanted && !there {
            faults.push(shape(path, format!("missing: {needs}")));
        }
    }
    if plan.stop_rule.is_some() && !matches!(e, Effect::Baseline(_)) {
        faults.push(shape(
            "plan.stop_rule",
            "a rule to stop belongs to the baseline question: remove it or ask for a baseline",
        ));
    }
}

/// Numbers of a rule to stop that make no line.
fn stop_rule(s: &Scenario, faults: &mut Vec<Fault>) {
    match &s.plan.stop_rule {
        Some(StopRule::ProbabilityRatio(r)) => {
            let path = "plan.stop_rule.probability_ratio";
            if r.high <= r.low {
                faults.push(bound(
                    &format!("{path}.high"),
                    r.high,
                    format!("a mean above {path}.low, {}", r.low),
                ));
            }
            if r.alpha + r.beta >= 1.0 {
                faults.push(bound(
                    &format!("{path}.beta"),
                    r.beta,
                    format!(
                        "a chance that makes less than 1 with {path}.alpha, {}",
                        r.alpha
                    ),
                ));
            }
        }
        // Whether Kuno's line is met is told with the line: it hangs on the premises.
        Some(StopRule::Kuno(_) | StopRule::Green(_)) | None => {}
    }
}

/// The fewest years that can answer a question.
fn fewest_years(s: &Scenario) -> u32 {
    match &s.question.effect {
        Effect::Decline(_) | Effect::NoWorse(_) | Effect::RangeShift(_) => 3,
        Effect::Difference(_) | Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => {
            1
        }
        Effect::BeforeAfter(_) => s.plan.groups.as_ref().map_or(1, |g| g.before_years) + 1,
        Effect::Occupancy(_) => match s.plan.visits.as_ref().map(|v| v.seasons) {
            Some(Seasons::FirstAndLast) => 2,
            _ => 3,
        },
    }
}

fn years(s: &Scenario, faults: &mut Vec<Fault>) {
    let (years, fewest) = (s.plan.years, fewest_years(s));
    if years < fewest {
        let why = match &s.question.effect {
            Effect::BeforeAfter(_) => {
                "plan.groups.before_years and at least one year after the treatment begins"
            }
            Effect::Occupancy(_) if fewest == 2 => {
                "the first and the last of plan.visits.seasons first_and_last"
            }
            _ => "this question is not answered by fewer",
        };
        faults.push(bound(
            "plan.years",
            years,
            format!("at least {fewest} years: {why}"),
        ));
    }
    let first_and_last = s
        .plan
        .visits
        .as_ref()
        .is_some_and(|v| v.seasons == Seasons::FirstAndLast);
    if first_and_last && years > 2 {
        faults.push(bound(
            "plan.years",
            years,
            "2, the first and the last year, or set plan.visits.seasons to every_year",
        ));
    }
}

/// The fewest sites that can answer a question, and why.
fn fewest_sites(s: &Scenario) -> (u32, &'static str) {
    match &s.question.effect {
        Effect::RangeShift(r) if !r.of.is_optimum() => {
            (4, "an edge along a gradient cannot be seen with fewer")
        }
        Effect::RangeShift(_) => (4, "a bell curve along a gradient cannot be seen with fewer"),
        Effect::Difference(_) => match &s.plan.groups {
            Some(g) if g.paired => (4, "two pairs are the fewest that can be compared"),
            _ => (3, "two groups cannot be compared with fewer"),
        },
        Effect::BeforeAfter(_) => match &s.plan.groups {
            Some(g) if g.paired && s.plan.years < 3 => {
                (4, "two pairs are the fewest that can be compared")
            }
            _ if s.plan.years < 3 => (3, "two groups cannot be compared with fewer"),
            _ => (2, "a treated site needs a control"),
        },
        _ => (2, ""),
    }
}

impl Scenario {
    /// The fewest sites that can answer the question.
    pub fn fewest_sites(&self) -> u32 {
        fewest_sites(self).0.max(self.plan.fewest_for_pattern())
    }

    /// The fewest years that can answer the question.
    pub fn fewest_years(&self) -> u32 {
        fewest_years(self)
    }

    /// Whether so many sites can be divided as the plan wants them: pairs come in twos, one site at least is
    /// treated, and panels are of equal size.
    pub fn fits_sites(&self, sites: u32) -> bool {
        let fits =
            |g: &super::Groups| (!g.paired || sites.is_multiple_of(2)) && g.treated_of(sites) > 0;
        self.plan.groups.as_ref().is_none_or(fits) && self.plan.fits_pattern(sites)
    }
}

fn sites(s: &Scenario, faults: &mut Vec<Fault>) {
    let (fewest, why) = fewest_sites(s);
    for (path, sites) in [
        ("plan.sites", s.plan.sites),
        ("limits.sites", s.limits.sites),
    ] {
        // Fewer than 2 are refused as out of the field's own bounds.
        if sites < fewest && sites >= 2 {
            faults.push(bound(
                path,
                sites,
                format!("at least {fewest} sites: {why}"),
            ));
        }
    }
}

fn groups(s: &Scenario, faults: &mut Vec<Fault>) {
    let (true, Some(g)) = (s.question.effect.has_groups(), &s.plan.groups) else {
        return;
    };
    let before = "plan.groups.before_years";
    match s.question.effect {
        Effect::BeforeAfter(_) if g.before_years == 0 => faults.push(bound(
            before,
            0,
            "at least 1 year before the treatment begins",
        )),
        Effect::Difference(_) if g.before_years > 0 => faults.push(bound(
            before,
            g.before_years,
            "0: the difference question compares groups that differ all the time; or ask for before_after",
        )),
        _ => {}
    }
    if g.paired {
        if g.treated_share != 0.5 {
            faults.push(bound(
                "plan.groups.treated_share",
                g.treated_share,
                "0.5: one site of each pair is treated",
            ));
        }
        if !s.plan.sites.is_multiple_of(2) {
            faults.push(bound(
                "plan.sites",
                s.plan.sites,
                "an even number: paired sites come in twos",
            ));
        }
    }
    let treated = g.treated_of(s.plan.sites);
    if treated == 0 {
        faults.push(bound(
            "plan.groups.treated_share",
            g.treated_share,
            format!(
                "a share that makes at least 1 of plan.sites, {}, a treated one",
                s.plan.sites
            ),
        ));
    }
}
