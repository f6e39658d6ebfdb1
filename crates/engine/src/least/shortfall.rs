//! When no plan within the limits answers: which limit binds, and what would help.
//!
//! Closed forms are a little hopeful where the surest plan was simulated; what would help is therefore judged by the
//! closed form's noncentrality times the ratio that makes it right for that plan.

use super::PlanAnswer;
use serde::Serialize;
use std::borrow::Cow;
use survey::closed_form::{
    delta_for, density_found, effect_size, expected_toll, in_words_of_question, power_at, preview,
    preview_at_stated,
};
use survey::frontier::resized;
use survey::scenario::{Checked, Effect, MOST_SITE_YEARS, Plan, Scenario, Test};
use survey::search::within_caps;

/// Why no plan answers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// One sentence.
    pub reason: String,
    /// Limits that bind: raising this one alone, within the format's bounds, would give an answer.
    pub binding: Vec<String>,
    /// What would help, in words, what kills least first, and last to ask for less; closed forms scaled to the simulation
    /// of the surest plan, not simulated themselves.
    pub would_help: Vec<String>,
    /// The surest plan within the limits.
    pub surest: PlanAnswer,
}

/// A change so large that asking for it is no help: per cent, and multiples of the stated shift.
const TOO_LARGE: (f64, f64) = (95.0, 20.0);

/// Closed forms made right for one simulated plan.
struct Scaled<'a> {
    scenario: &'a Checked,
    ratio: f64,
}

/// The scenario with the test that the simulated power is of: t as long as there are too few nulls to calibrate one.
fn judged_by(scenario: &Checked, stands_in: bool) -> Cow<'_, Checked> {
    if !stands_in {
        return Cow::Borrowed(scenario);
    }
    let mut other = scenario.clone().into_inner();
    other.analysis.test = Test::T;
    other.check().map_or(Cow::Borrowed(scenario), Cow::Owned)
}

impl<'a> Scaled<'a> {
    fn to(scenario: &'a Checked, surest: &PlanAnswer) -> Self {
        let judged = judged_by(scenario, surest.test.nulls_needed.is_some());
        let p = preview_at_stated(&judged, &surest.plan);
        // None of so many surveys is not the same as never.
        let least = match scenario.question.effect {
            Effect::Baseline(_) => 0.5 / surest.power.replicates.max(1) as f64,
            _ => 0.0,
        };
        let simulated = delta_for(scenario, p.df, surest.power.estimate.clamp(least, 0.999));
        let ratio = if p.delta > 0.0 {
            (simulated / p.delta).min(1.0)
        } else {
            1.0
        };
        Self { scenario, ratio }
    }

    fn power(&self, plan: &Plan) -> f64 {
        let p = preview_at_stated(self.scenario, plan);
        power_at(self.scenario, p.df, self.ratio * p.delta)
    }

    fn enough(&self, plan: &Plan) -> bool {
        let mut sound = Scenario {
            plan: plan.clone(),
            ..(**self.scenario).clone()
        };
        // What else may be chosen need not stand with it.
        sound.limits.clear_lists();
        let sound = sound.check().is_ok();
        let p = preview_at_stated(self.scenario, plan);
        sound
            && within_caps(self.scenario, plan)
            && power_at(self.scenario, p.df, self.ratio * p.delta)
                >= self.scenario.question.wanted_power
    }

    /// The fewest above `from` that suffice, up to `most`; the power rises with each of these numbers.
    fn fewest(&self, from: u32, most: u32, plan: &dyn Fn(u32) -> Plan) -> Option<u32> {
        let mut low = from;
        let mut high = (from + 1).min(most);
        while high < most && !self.enough(&plan(high)) {
            low = high;
            high = (high * 2).min(most);
        }
        if high <= from || !self.enough(&plan(high)) {
            return None;
        }
        while low + 1 < high {
            let mid = low.midpoint(high);
            if self.enough(&plan(mid)) {
                high = mid;
            } else {
                low = mid;
            }
        }
        Some(high)
    }
}

/// The most sites, up to `most`, that can be divided as the plan wants them; `most` where none can.
fn dividing(scenario: &Checked, plan: &Plan, most: u32) -> u32 {
    let own = Scenario {
        plan: plan.clone(),
        ..scenario.as_written().clone()
    };
    let mut down = (own.fewest_sites()..=most).rev();
    down.find(|&n| own.fits_sites(n)).unwrap_or(most)
}

/// Explains why the surest plan within the limits falls short.
pub fn shortfall(scenario: &Checked, surest: PlanAnswer) -> Shortfall {
    let l = &scenario.limits;
    let scaled = Scaled::to(scenario, &surest);
    let longest = l.years_or(scenario.plan.years).pop();
    let full = Plan {
        exposure_days: l
            .exposure_or(scenario.plan.exposure_days)
            .pop()
            .unwrap_or(scenario.plan.exposure_days),
        visits: surest.plan.visits.clone(),
        places: surest.plan.places.clone(),
        transect: surest.plan.transect.clone(),
        ..resized(
            &scenario
                .plan
                .over_years(longest.unwrap_or(scenario.plan.years))
                .with_revisit(surest.plan.revisit),
            l.sites,
            l.traps_per_site,
            l.weeks,
        )
    };
    let full = Plan {
        sites: dividing(scenario, &full, l.sites),
        ..full
    };
    let sites = |n| Plan {
        sites: dividing(scenario, &full, n),
        ..full.clone()
    };
    let traps = |n| Plan {
        traps_per_site: n,
        ..full.clone()
    };
    let weeks = |n| resized(&full, full.sites, l.traps_per_site, n);
    let years = |n| full.over_years(n);
    let most_sites = (MOST_SITE_YEARS as u32 / full.years).min(2000);
    let mut binding = Vec::new();
    // Ways to go further, with what each kills.
    let mut further = Vec::new();
    let mut names = Vec::new();
    for (key, found, words, plan) in [
        (
            "limits.sites",
            scaled.fewest(l.sites, most_sites, &sites),
            "sites",
            &sites as &dyn Fn(u32) -> Plan,
        ),
        (
            "limits.traps_per_site",
            scaled.fewest(l.traps_per_site, 100, &traps),
            "traps per site",
            &traps,
        ),
        (
            "limits.weeks",
            scaled.fewest(l.weeks, 30, &weeks),
            "weeks in a row",
            &weeks,
        ),
        (
            "plan.years",
            scaled.fewest(full.years, 60, &years),
            "years",
            &years,
        ),
    ] {
        if let Some(n) = found {
            binding.push(key.to_string());
            names.push(if key == "plan.years" {
                "the number of years".to_string()
            } else {
                format!("the limit on {words}")
            });
            let kills = expected_toll(scenario, &plan(n)).total();
            further.push((
                kills,
                format!(
                    "about {n} {words} with everything else at its limit (kills about {}, power about {:.0} %)",
                    thousands(kills),
                    100.0 * scaled.power(&plan(n)),
                ),
            ));
        }
    }
    further.extend(more_regions(scenario, &surest.plan, &scaled));
    further.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut would_help: Vec<String> = further.into_iter().map(|(_, way)| way).collect();
    would_help.extend(larger_change(scenario, &surest.plan, scaled.ratio));
    let reason = if binding.is_empty() {
        format!(
            "No plan within the limits reaches the wanted power, and raising no single limit would.{}",
            floor(scenario, &full).unwrap_or_default()
        )
    } else {
        format!(
            "No plan within the limits reaches the wanted power; what binds: {}.",
            names.join(", ")
        )
    };
    Shortfall {
        reason,
        binding,
        would_help,
        surest,
    }
}

/// A number of animals as a whole number with a mark for thousands.
fn thousands(animals: f64) -> String {
    let digits = format!("{animals:.0}");
    let marked = |(i, c): (usize, char)| {
        let mark = i > 0 && (digits.len() - i).is_multiple_of(3);
        mark.then_some(',').into_iter().chain([c])
    };
    digits.char_indices().flat_map(marked).collect()
}

/// Most regions worth proposing.
const MOST_REGIONS: u32 = 20;

/// How many regions like this one, each with the surest plan and with good and bad years of its own, would answer
/// together, with what they kill: the mean of n independent estimates has the n-th part of one's variance.
fn more_regions(scenario: &Checked, plan: &Plan, scaled: &Scaled) -> Option<(f64, String)> {
    if !scenario.question.effect.is_trend() {
        return None;
    }
    let p = preview_at_stated(scenario, plan);
    let power = |n: u32| power_at(scenario, p.df, scaled.ratio * p.delta * f64::from(n).sqrt());
    let regions = (2..=MOST_REGIONS).find(|&n| power(n) >= scenario.question.wanted_power)?;
    let kills = f64::from(regions) * expected_toll(scenario, plan).total();
    let way = format!(
        "{regions} regions like this one, each with the surest plan and with good and bad years of its own (kills about {}, power about {:.0} %)",
        thousands(kills),
        100.0 * power(regions)
    );
    Some((kills, way))
}

/// The change the surest plan would find, when that is a change worth asking for and larger than the stated one.
fn larger_change(scenario: &Checked, plan: &Plan, ratio: f64) -> Option<String> {
    let p = preview_at_stated(scenario, plan);
    if p.delta <= 0.0 || ratio <= 0.0 {
        return None;
    }
    let wanted = delta_for(scenario, p.df, scenario.question.wanted_power);
    let effect = effect_size(scenario) * wanted / (ratio * p.delta);
    let change = in_words_of_question(scenario, effect);
    match &scenario.question.effect {
        Effect::Decline(d) => (change > d.change_percent && change < TOO_LARGE.0).then(|| {
            format!("asking for a fall of about {change:.0} % over the question's horizon or more")
        }),
        Effect::NoWorse(n) => (change > n.margin_percent && change < TOO_LARGE.0).then(|| {
            format!(
                "claiming no more than a fall of about {change:.0} % over the question's horizon"
            )
        }),
        Effect::Difference(_) | Effect::BeforeAfter(_) => {
            let larger = effect > effect_size(scenario);
            (larger && change > -TOO_LARGE.0 && change < 100.0 * TOO_LARGE.1).then(|| {
                let word = if change < 0.0 { "fewer" } else { "more" };
                format!(
                    "asking for about {:.0} % {word} at treated sites, or beyond",
                    change.abs()
                )
            })
        }
        Effect::Occupancy(_) => {
            let larger = effect > effect_size(scenario);
            (larger && change > 0.01 && change < 0.99).then(|| {
                format!(
                    "asking for a change to about {:.0} % of sites, or beyond",
                    100.0 * change
                )
            })
        }
        Effect::RangeShift(r) => {
            let asked = r.distance_per_decade.abs();
            (change > asked && change < TOO_LARGE.1 * asked).then(|| {
                format!("asking for a move of about {change:.0} gradient units a decade or more")
            })
        }
        Effect::Inventory(i) => {
            let share = preview(scenario, plan).smallest_change;
            (share > 0.0 && share < i.wanted_share)
                .then(|| format!("asking for a share of about {:.1} %", 100.0 * share))
        }
        Effect::Absence(a) => {
            let asked = a.catch_per_trap_week;
            let change = density_found(scenario, plan, scenario.question.wanted_power)?;
            (change > asked)
                .then(|| format!("excluding only densities of {change:.2e} a trap-week or more"))
        }
        Effect::Baseline(b) => {
            let reached = p.smallest_change;
            (reached > b.within_percent && reached < TOO_LARGE.0)
                .then(|| format!("being content with ± {reached:.0} % of the mean"))
        }
    }
}

/// A sentence on the floor that shared years set, when they are most of the estimate's variance.
fn floor(scenario: &Checked, full: &Plan) -> Option<String> {
    let sd = scenario.premises.target.year_sd.value;
    if !scenario.question.effect.is_trend() {
        return None;
    }
    let t = f64::from(full.years);
    let share = sd * sd / (t * (t * t - 1.0) / 12.0);
    let se = preview_at_stated(scenario, full).se;
    (share > 0.5 * se * se).then(|| {
        format!(" Good and bad years shared by all sites (SD {sd}) set a floor that more traps cannot lower.")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_marked() {
        let told = [7.4, 999.0, 1000.0, 750_014.0, 12_345_678.0].map(thousands);
        assert_eq!(told, ["7", "999", "1,000", "750,014", "12,345,678"]);
    }
}
