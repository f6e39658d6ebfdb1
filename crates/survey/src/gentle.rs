//! Gentle catching: many light samples against few heavy ones, by closed form.
//!
//! The relative variance of a sample of which the share f is kept is 1/(f mu) + 1/k: once the catch mu is several times the
//! dispersion k, catching less costs next to no power, for 1/k stays (the variance of the negative binomial over its
//! squared mean; common practice, computed). A shorter exposure or a smaller trap spares animals; sorting a part of what
//! was caught spares hours alone, so that the two are told apart. Plans are compared at equal power.

use crate::axis::Axis;
use crate::closed_form::{expected_toll, power_at_stated, preview_at_stated};
use crate::scenario::{Checked, Plan, Premise, Scenario};
use serde::Serialize;

/// Shares of the plan's catch that are looked at.
pub const SHARES: [f64; 5] = [1.0, 0.75, 0.5, 0.25, 0.1];

/// Shortest exposure a plan may have, in days a week.
const SHORTEST: f64 = 0.1;

/// What lighter catching does to a plan. All by closed form.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gentle {
    /// Power of the plan as it is.
    pub power: f64,
    /// Expected toll of the plan as it is, all animals over all years.
    pub toll: f64,
    /// One sample of the plan.
    pub sample: Sample,
    /// The same traps open for a shorter time, or smaller ones: animals are spared.
    pub lighter: Vec<Lighter>,
    /// All is caught and killed as in the plan, and a part of it sorted: hours are spared, no animal.
    pub sub_sampling: Vec<SubSampled>,
    /// Each kind of trap: that of the premises, then the options in their order; none without options.
    pub traps: Vec<Kind>,
}

/// What one trap catches in one of the plan's weeks, on average over sites, weeks and years.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sample {
    /// Target animals.
    pub mean_catch: f64,
    /// Dispersion k.
    pub dispersion_k: f64,
    /// Other animals for each one of the target.
    pub others_per_target: f64,
    /// Information on the target for each animal killed, over that of the first animals: 1/((1 + mu/k)(1 + r)), r other
    /// animals for each one of the target.
    pub information_per_animal: f64,
}

/// The numbers of a plan that reaches the power of the plan as it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Needed {
    /// How many (sites, or traps at each site).
    pub number: u32,
    /// Power with them.
    pub power: f64,
    /// Expected toll with them.
    pub toll: f64,
    /// What that spares of the toll of the plan as it is; below 0 when it kills more.
    pub saved: f64,
}

/// The plan with a share of its catch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lighter {
    /// Share of the catch per trap and week.
    pub share: f64,
    /// Days a week that make this share; `null` where they are too few to be a plan's: then by a smaller trap alone.
    pub exposure_days: Option<f64>,
    /// Relative variance of one sample, 1/(f mu) + 1/k.
    pub cv_squared: f64,
    /// Information on the target for each animal killed, over that of the plan as it is.
    pub information_per_animal: f64,
    /// Power with the same sites and traps.
    pub power: f64,
    /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
    pub false_alarm: f64,
    /// Toll with the same sites and traps.
    pub toll: f64,
    /// Sites for the power of the plan as it is; `null` when none do.
    pub sites: Option<Needed>,
    /// Traps at each site for the power of the plan as it is; `null` when none do.
    pub traps: Option<Needed>,
}

/// The plan with a share of each sample sorted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SubSampled {
    /// Share of each sample that is sorted: also the sorting hours over those of all of it.
    pub share: f64,
    /// Power with the same sites and traps.
    pub power: f64,
    /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
    pub false_alarm: f64,
    /// Toll with the same sites and traps: that of the plan as it is.
    pub toll: f64,
    /// Sites for the power of the plan as it is; `null` when none do.
    pub sites: Option<Needed>,
    /// Sorting hours with these sites over those of the plan as it is; `null` without such sites.
    pub hours_for_same_power: Option<f64>,
}

/// The plan with one kind of trap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Kind {
    /// The option's name; `null` for the trap of the premises.
    pub option: Option<String>,
    /// Whether the plan uses it.
    pub used: bool,
    /// Why the plan cannot use it; `null` when it can.
    pub refused: Option<String>,
    /// Power with the same numbers; `null` when refused.
    pub power: Option<f64>,
    /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
    pub false_alarm: Option<f64>,
    /// Target animals killed with the same numbers.
    pub target: Option<f64>,
    /// Each by-catch group and other species killed, in the order of the scenario.
    pub others: Option<Vec<f64>>,
    /// All animals killed.
    pub toll: Option<f64>,
    /// Sites for the power of the plan as it is; `null` when none do.
    pub sites: Option<Needed>,
    /// Money for all traps of the plan, from that of one; `null` when it is not told.
    pub money: Option<f64>,
}

/// The comparison of a plan with lighter ones.
pub fn gentle(scenario: &Checked) -> Gentle {
    let plan = &scenario.plan;
    let power = power_at_stated(scenario, plan);
    let expected = expected_toll(scenario, plan);
    let toll = expected.total();
    let samples = [plan.sites, plan.traps_per_site, plan.weeks, plan.years];
    let samples: f64 = samples.into_iter().map(f64::from).product();
    let (mu, k) = (
        expected.target / samples,
        scenario.premises.target.dispersion_k.value,
    );
    let others = (toll - expected.target) / expected.target;
    let mark = Mark { power, toll };
    let lighter: Vec<Lighter> = SHARES
        .into_iter()
        .map(|f| lighter(scenario, f, &mark, mu, k))
        .collect();
    Gentle {
        power,
        toll,
        sample: Sample {
            mean_catch: mu,
            dispersion_k: k,
            others_per_target: others,
            information_per_animal: 1.0 / ((1.0 + mu / k) * (1.0 + others)),
        },
        sub_sampling: lighter
            .iter()
            .map(|l| sub_sampled(scenario, l, &mark))
            .collect(),
        lighter,
        traps: kinds(scenario, &mark),
    }
}

/// What is to be reached, and what it is held against.
struct Mark {
    power: f64,
    toll: f64,
}

/// The plan with a share of the catch of every animal. An exposure below the format's bounds is none that the plan could
/// have, but a smaller trap can catch as little.
fn with_share(plan: &Plan, share: f64) -> Plan {
    Plan {
        exposure_days: plan.exposure_days * share,
        ..plan.clone()
    }
}

fn lighter(scenario: &Checked, share: f64, mark: &Mark, mu: f64, k: f64) -> Lighter {
    let plan = with_share(&scenario.plan, share);
    let days = plan.exposure_days;
    let preview = preview_at_stated(scenario, &plan);
    Lighter {
        share,
        exposure_days: (days >= SHORTEST).then_some(days),
        cv_squared: 1.0 / (share * mu) + 1.0 / k,
        information_per_animal: (1.0 + mu / k) / (1.0 + share * mu / k),
        power: preview.power,
        false_alarm: preview.false_alarm,
        toll: expected_toll(scenario, &plan).total(),
        sites: needed(scenario, &plan, Axis::Sites, mark),
        traps: needed(scenario, &plan, Axis::Traps, mark),
    }
}

fn sub_sampled(scenario: &Checked, light: &Lighter, mark: &Mark) -> SubSampled {
    // The same number of sites, whose traps kill as before.
    let sites = light.sites.map(|n| {
        let plan = Axis::Sites.set(&scenario.plan, n.number);
        let toll = expected_toll(scenario, &plan).total();
        Needed {
            toll,
            saved: mark.toll - toll,
            ..n
        }
    });
    let own = f64::from(scenario.plan.sites);
    SubSampled {
        share: light.share,
        power: light.power,
        false_alarm: light.false_alarm,
        toll: mark.toll,
        hours_for_same_power: sites.map(|n| light.share * f64::from(n.number) / own),
        sites,
    }
}

/// The smallest number on the axis, from the plan's own up, with the power that is wanted; `None` when no number that the
/// format takes has it. Power is taken to rise with the number.
fn needed(scenario: &Checked, plan: &Plan, axis: Axis, mark: &Mark) -> Option<Needed> {
    let own = axis.of(plan);
    let fits = |n: u32| axis != Axis::Sites || scenario.fits_sites(n);
    let power = |n: u32| power_at_stated(scenario, &axis.set(plan, n));
    let enough = |n: u32| power(n) >= mark.power - 1e-9;
    // By pairs and by whole panels.
    let step = plan.pattern_step().max(2);
    let next = |n: u32| (n..n + step).find(|&n| fits(n)).unwrap_or(n);
    // What the format takes, whatever the exposure.
    let allowed = |n: u32| {
        let plan = axis.set(&scenario.plan, n);
        let other = Scenario {
            plan,
            ..(**scenario).clone()
        };
        other.check().is_ok()
    };
    let told = |n: u32| {
        let plan = axis.set(plan, n);
        let toll = expected_toll(scenario, &plan).total();
        Needed {
            number: n,
            power: power_at_stated(scenario, &plan),
            toll,
            saved: mark.toll - toll,
        }
    };
    if !mark.power.is_finite() {
        return None;
    }
    if enough(own) {
        return Some(told(own));
    }
    let (mut low, mut high) = (own, next(own + 1));
    while allowed(high) && !enough(high) {
        low = high;
        high = next(2 * high);
    }
    if !allowed(high) {
        let (most, _) = halved(low, high, next, |n| !allowed(n));
        if most == low || !enough(most) {
            return None;
        }
        high = most;
    }
    let (_, fewest) = halved(low, high, next, enough);
    Some(told(fewest))
}

/// Neighbours, of the numbers that `next` goes to, between which something begins to hold: it does not at `low` and
/// does at `high`.
fn halved(
    mut low: u32,
    mut high: u32,
    next: impl Fn(u32) -> u32,
    holds: impl Fn(u32) -> bool,
) -> (u32, u32) {
    loop {
        let middle = next(low + (high - low) / 2);
        if middle >= high || middle <= low {
            return (low, high);
        }
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
}

fn kinds(scenario: &Checked, mark: &Mark) -> Vec<Kind> {
    let written = scenario.as_written();
    let options = &written.premises.trap_options;
    if options.is_empty() {
        return Vec::new();
    }
    let used = written.plan.trap_option.as_deref();
    let names = std::iter::once(None).chain(options.iter().map(|o| Some(o.name.as_str())));
    names
        .map(|name| {
            let none = Kind {
                option: name.map(Into::into),
                used: name == used,
                refused: None,
                power: None,
                false_alarm: None,
                target: None,
                others: None,
                toll: None,
                sites: None,
                money: None,
            };
            match scenario.with_option(name) {
                Ok(s) => kind(&s, none, mark),
                Err(faults) => Kind {
                    refused: faults.first().map(ToString::to_string),
                    ..none
                },
            }
        })
        .collect()
}

fn kind(s: &Checked, none: Kind, mark: &Mark) -> Kind {
    let plan = &s.plan;
    let toll = expected_toll(s, plan);
    let traps = f64::from(plan.sites) * f64::from(plan.traps_per_site);
    let preview = preview_at_stated(s, plan);
    Kind {
        power: Some(preview.power),
        false_alarm: Some(preview.false_alarm),
        target: Some(toll.target),
        toll: Some(toll.total()),
        others: Some(toll.bycatch),
        sites: needed(s, plan, Axis::Sites, mark),
        money: s
            .trap_option()
            .and_then(|o| o.money_per_trap)
            .map(|money| money * traps),
        ..none
    }
}

/// All numbers of an option with their sources, in words: what is multiplied, and its premise.
pub fn factors(option: &crate::scenario::TrapOption) -> Vec<(String, &Premise)> {
    let mut all = vec![("the target".to_string(), &option.catch_factor)];
    if let Some(k) = &option.k_factor {
        all.push(("its dispersion k".into(), k));
    }
    for of in &option.bycatch {
        let whom = match (&of.group, of.class) {
            (Some(name), _) => name.clone(),
            (None, Some(class)) => format!("all {}", class.words()),
            (None, None) => continue,
        };
        all.push((whom, &of.factor));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{CatchFactor, Class, Premise, Source, TrapOption, read};

    fn beetles(change: impl Fn(&mut Scenario)) -> Checked {
        let mut s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        change(&mut s);
        s.check().unwrap()
    }

    /// k = 2: of a mean of 100 all kept .51 and a tenth .60, of a mean of 2 1.0 and 5.5 (computed from 1/(f mu) + 1/k).
    #[test]
    fn relative_variances() {
        let s = beetles(|_| {});
        let mark = Mark {
            power: f64::NAN,
            toll: 1.0,
        };
        let cv = |share, mu| lighter(&s, share, &mark, mu, 2.0).cv_squared;
        for (share, mu, want) in [
            (1.0, 100.0, 0.51),
            (0.1, 100.0, 0.6),
            (1.0, 2.0, 1.0),
            (0.1, 2.0, 5.5),
        ] {
            assert!((cv(share, mu) - want).abs() < 1e-12, "{share} {mu}");
        }
        let one = lighter(&s, 0.1, &mark, 100.0, 2.0).information_per_animal;
        assert!((one - 51.0 / 6.0).abs() < 1e-12, "{one}");
    }

    /// Lighter samples: less power with the same numbers, more sites for the same power, fewer animals all the same.
    #[test]
    fn many_light_samples_spare_animals() {
        let s = beetles(|s| {
            s.premises.target.catch_per_trap_week = Premise::new(60.0, Source::Invented);
        });
        let g = gentle(&s);
        assert_eq!(g.lighter.len(), SHARES.len());
        assert_eq!(g.lighter[0].sites.unwrap().number, s.plan.sites);
        assert_eq!(g.lighter[0].power, g.power);
        for pair in g.lighter.windows(2) {
            assert!(pair[1].power <= pair[0].power + 1e-12);
            assert!(pair[1].cv_squared > pair[0].cv_squared);
            assert!(pair[1].toll < pair[0].toll);
            let (a, b) = (pair[0].sites.unwrap(), pair[1].sites.unwrap());
            assert!(b.number >= a.number && b.power >= g.power - 1e-9);
            assert!(b.saved > a.saved, "{g:?}");
            // One site fewer is not enough.
            let plan = with_share(&s.plan, pair[1].share);
            let fewer = Axis::Sites.set(&plan, b.number - 1);
            assert!(b.number == s.plan.sites || power_at_stated(&s, &fewer) < g.power);
        }
        for (sub, light) in g.sub_sampling.iter().zip(&g.lighter) {
            assert_eq!((sub.power, sub.toll), (light.power, g.toll));
            assert!(sub.sites.unwrap().saved <= 1e-9 * g.toll);
        }
        assert!(g.sub_sampling[4].hours_for_same_power.unwrap() < 0.5);
        assert!(g.traps.is_empty());
    }

    /// A funnel that keeps the target: the same power, two thirds of the vertebrates spared; and one that names no group
    /// there is, refused with those there are.
    #[test]
    fn kinds_of_trap_side_by_side() {
        let option = |name: &str, class, factor| TrapOption {
            bycatch: vec![CatchFactor {
                group: None,
                class: Some(class),
                factor: Premise::new(factor, Source::Guess),
            }],
            money_per_trap: Some(3.0),
            ..TrapOption::unchanged(name)
        };
        let s = beetles(|s| {
            s.premises.trap_options = vec![
                option("funnel", Class::Vertebrate, 0.0),
                option("bait", Class::Arthropod, 2.0),
            ];
            s.plan.trap_option = Some("bait".into());
        });
        let g = gentle(&s);
        let [plain, funnel, bait] = &g.traps[..] else {
            panic!("{g:?}")
        };
        assert_eq!((plain.power, funnel.power), (bait.power, bait.power));
        assert!(bait.used && !plain.used && plain.money.is_none());
        let traps = f64::from(s.plan.sites * s.plan.traps_per_site);
        assert_eq!(funnel.money, Some(3.0 * traps));
        assert!(funnel.toll < plain.toll && plain.toll < bait.toll);
        let classes = s.premises.bycatch.iter().map(|g| g.class);
        let each = classes.zip(
            plain
                .others
                .as_ref()
                .unwrap()
                .iter()
                .zip(bait.others.as_ref().unwrap()),
        );
        for (class, (a, b)) in each {
            let factor = if class == Class::Arthropod { 2.0 } else { 1.0 };
            assert!((b / a - factor).abs() < 1e-9 || *a == 0.0);
        }
    }
}
