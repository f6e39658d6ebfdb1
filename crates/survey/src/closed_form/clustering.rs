//! How many independent traps the traps of a plan are worth: the design effect of a sample in clusters.
//!
//! n traps, m at each site, tell a mean as well as n/(1 + (m - 1) ICC) traps at sites of their own (Kish 1965, Survey
//! Sampling, section 5.4; recalled from memory), where ICC is the share of a trap's variance that the traps of a site have
//! in common. All variances are on the log scale, of one trap's total in one year: between sites s2_site + s2_site-year,
//! within a site s2_trap + 1/mean + 1/(k W) with W effective weeks (delta method).

use super::kept::scatter;
use super::space::mean_correlation;
use crate::scenario::{Checked, Effect, Plan, TrapPoints};
use serde::Serialize;

/// What clusters make of traps.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Clustered {
    /// Share of one trap's variance that traps of a site have in common, 0 to 1.
    pub icc: f64,
    /// Variance of the mean over that of as many independent traps.
    pub design_effect: f64,
    /// The number of independent traps that tell as much.
    pub effective: f64,
}

/// How many independent traps and sites a plan is worth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Clustering {
    /// Traps of the year with the most sites.
    pub traps: u32,
    /// Traps at each site.
    pub traps_per_site: u32,
    /// For how much is caught in one year.
    pub level: Clustered,
    /// For how the catch changes at sites that come back, whose own level drops out; `null` where the question is not about that.
    pub change: Option<Clustered>,
    /// Independent sites that tell as much about a mean; `null` unless sites are alike by their distance.
    pub sites: Option<f64>,
}

/// Variance of the mean of clusters of `m` over that of as many independent units (Kish 1965).
pub fn design_effect(m: f64, icc: f64) -> f64 {
    1.0 + (m - 1.0) * icc
}

fn clustered(plan: &Plan, traps: u32, shared: f64, own: f64) -> Clustered {
    let icc = if shared + own > 0.0 {
        shared / (shared + own)
    } else {
        0.0
    };
    let design_effect = design_effect(f64::from(plan.traps_per_site), icc);
    Clustered {
        icc,
        design_effect,
        effective: f64::from(traps) / design_effect,
    }
}

/// Of a plan; `None` of the questions whose estimate is no mean of log catches (occupancy, edges, absence, inventories).
pub fn clustering(scenario: &Checked, plan: &Plan) -> Option<Clustering> {
    let change = match &scenario.question.effect {
        Effect::Decline(_) | Effect::NoWorse(_) | Effect::BeforeAfter(_) => plan.comes_back(),
        Effect::RangeShift(r) if r.of.is_optimum() => plan.comes_back(),
        Effect::Difference(_) | Effect::Baseline(_) => false,
        _ => return None,
    };
    let one = Plan {
        traps_per_site: 1,
        ..plan.clone()
    };
    let scatter = scatter(scenario, &one);
    let t = &scenario.premises.target;
    let square = |v: f64| v * v;
    let (site, own) = (square(t.site_sd.value), square(t.site_year_sd.value));
    let counted = scatter.inverse_mean + scatter.dispersion;
    // A point that stays belongs to the trap, and drops out of a change as the site's level does.
    let moving = if plan.trap_points == TrapPoints::Same {
        0.0
    } else {
        square(t.trap_sd.value)
    };
    let traps = plan.most_sites_in_a_year() * plan.traps_per_site;
    let alike = scenario.premises.departures.correlation_length_km.value > 0.0;
    Some(Clustering {
        traps,
        traps_per_site: plan.traps_per_site,
        level: clustered(plan, traps, site + own, square(t.trap_sd.value) + counted),
        change: change.then(|| clustered(plan, traps, own, moving + counted)),
        sites: alike.then(|| 1.0 / mean_correlation(scenario, plan)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::serial::spread_of_years;
    use crate::closed_form::variances_at;
    use crate::scenario::{Scenario, read};

    fn beetles(change: impl Fn(&mut Scenario)) -> Checked {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        change(&mut s);
        s.check().unwrap()
    }

    /// Kish's design effect, multiplied out: 60 traps, ten at each of six sites, with an ICC of a half count as 10.9; with
    /// none as 60, with 1 as the six sites.
    #[test]
    fn sixty_traps_count_as_eleven() {
        let effective = |icc| 60.0 / design_effect(10.0, icc);
        assert!((effective(0.5) - 10.909_090_909).abs() < 1e-9);
        assert_eq!((effective(0.0), effective(1.0)), (60.0, 6.0));
    }

    /// The variance of a slope from clusters is that of so many independent traps: with even trap points the closed form of
    /// the slope says just this.
    #[test]
    fn the_slope_has_this_design_effect() {
        let s = beetles(|s| {
            (
                s.premises.target.trap_sd.value,
                s.premises.target.year_sd.value,
            ) = (0.0, 0.0);
            s.premises.trap_loss.value = 0.0;
            s.premises.trap_loss.low = None;
            s.premises.trap_loss.high = None;
            s.premises.target.year_sd.low = None;
        });
        let change = clustering(&s, &s.plan).unwrap().change.unwrap();
        let t = &s.premises.target;
        let own = t.site_year_sd.value * t.site_year_sd.value;
        let one_trap = own / change.icc;
        let want = one_trap / change.effective / spread_of_years(f64::from(s.plan.years));
        let got = variances_at(&s, &s.plan, 0.0).truth;
        assert!((got / want - 1.0).abs() < 1e-9, "{got} {want}");
    }

    /// Sites alike from near to near count as fewer; a question without log catches has no such numbers.
    #[test]
    fn sites_alike_and_questions_without() {
        let far = beetles(|_| {});
        let near = beetles(|s| {
            s.premises.departures.correlation_length_km.value = 5.0;
            s.premises.departures.region_km2.value = 100.0;
        });
        assert_eq!(clustering(&far, &far.plan).unwrap().sites, None);
        let sites = clustering(&near, &near.plan).unwrap().sites.unwrap();
        assert!(sites > 1.0 && sites < 12.0, "{sites}");
        let s = read(include_str!("../../../../demo-data/orchard-absence.json"))
            .unwrap()
            .check()
            .unwrap();
        assert_eq!(clustering(&s, &s.plan), None);
    }
}
