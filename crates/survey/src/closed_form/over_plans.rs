//! Closed forms over many plans of one scenario that differ in sites, traps and weeks alone: what hangs on one or two
//! of these is worked out once. Equal to the closed forms of one plan but for rounding.

use super::absence::OneTrap;
use super::baseline::{self, OneSite, Typical};
use super::decline::{self, Years};
use super::inventory::{Believed, Share};
use super::kept::{Scatter, scatter};
use super::panels;
use super::space::mean_correlation;
use super::toll::{ExpectedToll, expected_toll};
use super::{effect_size, standard_error};
use crate::generator::Closing;
use crate::scenario::{Checked, Effect, Plan};
use crate::search::WeekSet;
use crate::season::Moving;

/// Closed forms over all plans up to some numbers of sites, traps and weeks.
pub struct OverPlans<'a> {
    scenario: &'a Checked,
    effect: f64,
    sets: Vec<WeekSet>,
    years: Years,
    /// Change a year on the log scale; of a trend alone.
    slope: f64,
    /// By traps, then sets of weeks; none but for a trend: other variances are worked out plan by plan.
    scatters: Vec<Scatter>,
    /// By sets of weeks; of a claim of absence alone.
    one_traps: Vec<OneTrap>,
    /// By sets of weeks; of a baseline alone.
    one_sites: Vec<OneSite>,
    /// The share wanted of an inventory, and the community.
    inventory: Option<(f64, Believed)>,
    /// Of one trap at the reference's sites, by sets of weeks, over that of the last one: a share for the target and
    /// each group. `None` where a toll is too small to be shared out.
    by_weeks: Option<Vec<Vec<f64>>>,
    /// Whether these are by traps, then sets of weeks: where sites are closed early more traps kill less than in
    /// proportion.
    by_traps: bool,
}

/// Plans with the same number of sites.
pub struct AtSites<'a> {
    all: &'a OverPlans<'a>,
    sites: u32,
    alike: f64,
    /// Of a baseline alone.
    typical: Option<Typical>,
    /// Of a trend whose sites are not all visited every year, or drop out.
    panels: Option<panels::OfSites>,
    /// Toll of one trap in the last set of weeks, target and groups.
    toll: Vec<f64>,
}

fn all_of(toll: ExpectedToll) -> Vec<f64> {
    let mut all = vec![toll.target];
    all.extend(toll.bycatch);
    all
}

impl<'a> OverPlans<'a> {
    /// For plans of at most so many traps, of one of the sets of weeks, and of sites like `sites`.
    pub fn new(scenario: &'a Checked, sites: u32, traps: u32, sets: Vec<WeekSet>) -> Self {
        let plan = |t, set: &WeekSet| set.on(&scenario.plan, sites, t);
        // Where animals have an end everything hangs on everything.
        let endless = scenario.premises.local_population.is_none();
        let panels = panels::applies(scenario, &scenario.plan);
        let scatters = if scenario.question.effect.is_trend() && endless {
            let each = (1..=traps).flat_map(|t| sets.iter().map(move |w| (t, w)));
            each.map(|(t, w)| scatter(scenario, &plan(t, w))).collect()
        } else {
            Vec::new()
        };
        let one_traps = match &scenario.question.effect {
            Effect::Absence(a) => sets
                .iter()
                .map(|w| OneTrap::new(scenario, &plan(1, w), a.catch_per_trap_week))
                .collect(),
            _ => Vec::new(),
        };
        let one_sites = match &scenario.question.effect {
            Effect::Baseline(_) => sets
                .iter()
                .map(|w| OneSite::new(scenario, &plan(1, w)))
                .collect(),
            _ => Vec::new(),
        };
        let toll = |t, w: &WeekSet| all_of(expected_toll(scenario, &plan(t, w)));
        let most = sets.last().map(|w| toll(1, w)).unwrap_or_default();
        let killed = scenario.premises.killed_besides();
        let none = |g: usize| g > 0 && killed[g - 1].group.catch_per_trap_week.value == 0.0;
        let shares = |t: u32, w: &WeekSet| -> Vec<f64> {
            let pairs = toll(t, w).into_iter().zip(&most).enumerate();
            pairs
                .map(|(g, (t, m))| if none(g) { 0.0 } else { t / m })
                .collect()
        };
        let by_traps = Closing::of(scenario, &scenario.plan).is_some();
        // Weeks take the same share of the toll of every year, whoever is visited in it, unless they move or are closed.
        let moves = by_traps || Moving::of(&scenario.premises.departures).is_some();
        let shared = endless
            && !(panels && moves)
            && (0..most.len()).all(|g| none(g) || most[g] > f64::MIN_POSITIVE);
        let effect = effect_size(scenario);
        let slope = match &scenario.question.effect {
            Effect::NoWorse(n) => n.true_slope(),
            _ => -effect,
        };
        Self {
            scenario,
            effect,
            years: Years::new(scenario, &scenario.plan, slope),
            slope,
            scatters,
            one_traps,
            one_sites,
            inventory: match &scenario.question.effect {
                Effect::Inventory(i) => Some((i.wanted_share, Believed::new(scenario))),
                _ => None,
            },
            by_weeks: shared.then(|| {
                let each = (1..=if by_traps { traps } else { 1 }).flat_map(|t| {
                    let shares = &shares;
                    sets.iter().map(move |w| shares(t, w))
                });
                each.collect()
            }),
            by_traps,
            sets,
        }
    }

    /// The plans with this number of sites.
    pub fn at(&'a self, sites: u32) -> AtSites<'a> {
        let last = self.sets.last();
        let plan = last.map_or_else(
            || self.scenario.plan.clone(),
            |set| set.on(&self.scenario.plan, sites, 1),
        );
        AtSites {
            all: self,
            sites,
            alike: mean_correlation(self.scenario, &plan),
            panels: (!self.scatters.is_empty() && panels::applies(self.scenario, &plan))
                .then(|| panels::OfSites::new(self.scenario, &plan, self.slope)),
            typical: (!self.one_sites.is_empty()).then(|| Typical::new(self.scenario, sites)),
            toll: all_of(expected_toll(self.scenario, &plan)),
        }
    }
}

impl AtSites<'_> {
    fn plan(&self, traps: u32, set: usize) -> Plan {
        self.all.sets[set].on(&self.all.scenario.plan, self.sites, traps)
    }

    /// Standard error of the estimate, as [`standard_error`].
    pub fn standard_error(&self, traps: u32, set: usize) -> f64 {
        let all = self.all;
        let place = (traps - 1) as usize * all.sets.len() + set;
        match (all.scatters.get(place), &self.panels) {
            (Some(scatter), Some(panels)) => {
                let plan = self.plan(traps, set);
                panels.variances(all.scenario, &plan, scatter).truth.sqrt()
            }
            (Some(scatter), None) => {
                let sites = f64::from(self.sites);
                decline::variances_from(all.scenario, sites, &all.years, scatter, self.alike)
                    .truth
                    .sqrt()
            }
            (None, _) => standard_error(all.scenario, &self.plan(traps, set)),
        }
    }

    /// Expected toll as [`expected_toll`], the target first, then the groups, put into `tolls`, which has their length.
    pub fn tolls(&self, traps: u32, set: usize, tolls: &mut [f64]) {
        match &self.all.by_weeks {
            Some(shares) => {
                let (place, traps) = if self.all.by_traps {
                    ((traps - 1) as usize * self.all.sets.len() + set, 1.0)
                } else {
                    (set, f64::from(traps))
                };
                let pairs = self.toll.iter().zip(&shares[place]);
                for (toll, (t, s)) in tolls.iter_mut().zip(pairs) {
                    *toll = traps * t * s;
                }
            }
            None => {
                let all = all_of(expected_toll(self.all.scenario, &self.plan(traps, set)));
                tolls.copy_from_slice(&all);
            }
        }
    }

    /// What plans are ranked by, as [`plan_delta`](super::plan_delta).
    pub fn delta(&self, traps: u32, set: usize) -> f64 {
        if let Some(one) = self.all.one_traps.get(set) {
            return one.delta(self.sites, traps);
        }
        let one = self.all.one_sites.get(set);
        if let (Some(typical), Some(one)) = (&self.typical, one) {
            let seen = baseline::seen_variance(one, self.sites, traps, self.alike);
            return typical.delta(seen, self.all.effect);
        }
        if let Some((wanted, believed)) = &self.all.inventory {
            return Share::new(self.all.scenario, &self.plan(traps, set), believed).delta(*wanted);
        }
        self.all.effect / self.standard_error(traps, set)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frontier::resized;
    use crate::scenario::read;

    /// Runs of 1 to `most` weeks around the plan's middle.
    fn runs(s: &Checked, most: u32) -> Vec<WeekSet> {
        let run = |weeks| WeekSet::run(resized(&s.plan, 2, 1, weeks).first_week, weeks);
        (1..=most).map(run).collect()
    }

    /// Every plan within small limits, of both kinds of question, with and without departures.
    #[test]
    fn same_as_plan_by_plan() {
        let demos = [
            include_str!("../../../../demo-data/meadow-beetles.json"),
            include_str!("../../../../demo-data/mountain-moths.json"),
        ];
        for (text, departs) in demos.iter().flat_map(|t| [(t, false), (t, true)]) {
            let mut s = read(text).unwrap();
            if departs {
                let d = &mut s.premises.departures;
                d.site_slope_sd.value = 0.02;
                d.year_autocorrelation.value = 0.4;
                d.correlation_length_km.value = 8.0;
                d.region_km2.value = 400.0;
                d.shared_week_sd.value = 0.2;
            }
            let s = s.check().unwrap();
            let over = OverPlans::new(&s, 4, 3, runs(&s, 9));
            for sites in 4..9 {
                let at = over.at(sites);
                for (traps, weeks) in (1..=3).flat_map(|t| (1..=9).map(move |w| (t, w))) {
                    let plan = resized(&s.plan, sites, traps, weeks);
                    let same = |got: f64, want: f64| {
                        assert!((got / want - 1.0).abs() < 1e-12, "{plan:?}: {got} {want}");
                    };
                    let set = weeks as usize - 1;
                    same(at.standard_error(traps, set), standard_error(&s, &plan));
                    let want = all_of(expected_toll(&s, &plan));
                    let mut tolls = vec![0.0; want.len()];
                    at.tolls(traps, set, &mut tolls);
                    tolls.iter().zip(want).for_each(|(t, w)| same(*t, w));
                }
            }
        }
    }

    /// Where sites are closed early, more traps kill less than in proportion.
    #[test]
    fn tolls_of_schemes_that_close_sites() {
        let text = include_str!("../../../../demo-data/mountain-occupancy.json");
        let mut s = read(text).unwrap();
        s.plan.visits.as_mut().unwrap().scheme = crate::scenario::Scheme::Removal;
        let s = s.check().unwrap();
        let over = OverPlans::new(&s, 10, 3, runs(&s, 5));
        for (sites, traps, weeks) in [(10, 1, 5), (20, 3, 4), (30, 2, 2)] {
            let want = all_of(expected_toll(&s, &resized(&s.plan, sites, traps, weeks)));
            let mut got = vec![0.0; want.len()];
            over.at(sites).tolls(traps, weeks as usize - 1, &mut got);
            for (g, w) in got.iter().zip(&want) {
                assert!(
                    (g / w - 1.0).abs() < 1e-9 || *w == 0.0,
                    "{sites} {traps} {weeks}: {got:?} {want:?}"
                );
            }
        }
    }

    /// Of a baseline, whose plans are ranked by a chance: with sites by themselves, and with some that are alike.
    #[test]
    fn a_baseline_is_ranked_the_same_plan_by_plan() {
        for alike in [false, true] {
            let text = include_str!("../../../../demo-data/orchard-baseline.json");
            let mut s = read(text).unwrap();
            if alike {
                s.premises.departures.correlation_length_km.value = 8.0;
                s.premises.departures.region_km2.value = 400.0;
            }
            let s = s.check().unwrap();
            let over = OverPlans::new(&s, 2, 3, runs(&s, 4));
            for sites in [2, 3, 10, 60] {
                let at = over.at(sites);
                for (traps, weeks) in (1..=3).flat_map(|t| (1..=4).map(move |w| (t, w))) {
                    let plan = resized(&s.plan, sites, traps, weeks);
                    let (got, want) = (
                        at.delta(traps, weeks as usize - 1),
                        super::super::plan_delta(&s, &plan),
                    );
                    assert!(got > 0.0, "{plan:?}");
                    assert!((got / want - 1.0).abs() < 1e-9, "{plan:?}: {got} {want}");
                }
            }
        }
    }

    /// What plans of an inventory are ranked by rises with everything that is caught.
    #[test]
    fn inventories_are_ranked_alike() {
        let text = include_str!("../../../../demo-data/meadow-inventory.json");
        let s = read(text).unwrap().check().unwrap();
        let over = OverPlans::new(&s, 2, 2, runs(&s, 3));
        let mut before = 0.0;
        for sites in [2, 8, 20, 60] {
            let delta = over.at(sites).delta(2, 2);
            let plan = resized(&s.plan, sites, 2, 3);
            let alone = super::super::plan_delta(&s, &plan);
            assert!((delta / alone - 1.0).abs() < 1e-12, "{delta} {alone}");
            assert!(delta > before, "{sites}: {delta} {before}");
            before = delta;
        }
    }
}
