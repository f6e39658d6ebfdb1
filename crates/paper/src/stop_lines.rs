//! A rule to stop in the field: sentences, tables, picture, and the card that is taken along.

mod card;
mod figure;
mod tables;

pub use card::card;
pub use figure::figure;
pub use tables::{csv, fixed, means};

use crate::number::{at_most, percent, plain, rounded};
use survey::scenario::{Effect, Scenario, StopRule};
use survey::stop_lines::{StopPlan, error_asked};

/// A number with no more than three digits that say something.
fn short(v: f64) -> String {
    let decimals = match v.abs() {
        s if s >= 100.0 => 0,
        s if s >= 10.0 => 1,
        s if s >= 1.0 => 2,
        _ => 3,
    };
    at_most(v, decimals)
}

/// The rule's name.
pub fn name(rule: &StopRule) -> &'static str {
    match rule {
        StopRule::Green(_) => "Green's line for a precision",
        StopRule::Kuno(_) => "Kuno's line for a precision",
        StopRule::ProbabilityRatio(_) => "Wald's test: low or high",
    }
}

/// What a sample is, and what the premises say of it.
pub fn sample(scenario: &Scenario, plan: &StopPlan) -> String {
    let s = &plan.sample;
    let traps = match scenario.plan.traps_per_site {
        1 => "the trap".to_string(),
        n => format!("the {n} traps"),
    };
    let clumped = match s.k {
        Some(k) => format!(
            "dispersion K {} (what sites and trap points differ by is in it), that is a mean crowding of alpha {} + beta {} times the mean",
            short(k),
            plain(s.alpha),
            short(s.beta)
        ),
        None => "counts as good as Poisson".to_string(),
    };
    let others = if s.bycatch > 0.0 {
        format!(
            " About {} other animals die with each sample.",
            rounded(s.bycatch)
        )
    } else {
        String::new()
    };
    format!(
        "A sample is the catch of {traps} of one site in one visit of {} days. By the premises it holds {} {} on average, with {clumped}.{others}",
        plain(scenario.plan.exposure_days),
        short(s.mean),
        scenario.premises.target.name
    )
}

/// The rule as an instruction.
pub fn rule(plan: &StopPlan) -> String {
    match &plan.rule {
        StopRule::Green(r) => format!(
            "Stop as soon as the total so far is at the line or above it: the mean is then known with a standard error of about {} % of it, if the variance of samples is {} times the mean to the power of {} (Taylor). Stop after {} samples anyway.",
            plain(r.relative_error_percent),
            plain(r.a),
            plain(r.b),
            r.most_samples
        ),
        StopRule::Kuno(r) => format!(
            "Stop as soon as the total so far is at the line or above it: the mean is then known with a standard error of about {} % of it, if samples are as clumped as the premises say. Stop after {} samples anyway.",
            plain(r.relative_error_percent),
            r.most_samples
        ),
        StopRule::ProbabilityRatio(r) => {
            let lines = plan.ratio.map_or(String::new(), |l| {
                format!(
                    " The lines are {} and {} + {} times the number of samples.",
                    short(l.lower),
                    short(l.upper),
                    short(l.slope)
                )
            });
            format!(
                "Stop as soon as the total so far is at the lower line or below it: the mean is low, {} a sample or less; or at the upper line or above it: the mean is high, {} or more. At a mean of just {} about {} of rounds say high, at just {} about {} say low.{lines} Stop after {} samples anyway, without a decision.",
                plain(r.low),
                plain(r.high),
                plain(r.low),
                percent(r.alpha),
                plain(r.high),
                percent(r.beta),
                r.most_samples
            )
        }
    }
}

/// What to know before using the rule with this plan: more samples than the plan has visits of sites, and a precision that
/// is not the question's.
pub fn warnings(scenario: &Scenario, plan: &StopPlan) -> Vec<String> {
    let mut all = Vec::new();
    let most = plan.rule.most_samples();
    let sites = scenario.plan.sites;
    if most > sites {
        all.push(format!(
            "The rule may ask for {most} samples where the plan has {sites} sites: a sample is one site in one visit, and a second visit to a site is not another site. Lower the most samples to {sites}, or plan for more sites."
        ));
    }
    let wanted = match &plan.rule {
        StopRule::Green(g) => Some(g.relative_error_percent),
        StopRule::Kuno(k) => Some(k.relative_error_percent),
        StopRule::ProbabilityRatio(_) => None,
    };
    if let (Some(error), Effect::Baseline(b), Some(asked)) =
        (wanted, &scenario.question.effect, error_asked(scenario))
        && error > 1.05 * asked
    {
        all.push(format!(
                "The rule stops at a standard error of {} % of the mean; the question's interval of {} % either way asks for about {asked:.0} %. Stopping by this rule does not answer the question as asked.",
                plain(error),
                plain(b.within_percent)
            ));
    }
    all
}

/// What the rule does if the premises hold, against a number of samples fixed beforehand; `None` where the exact form
/// takes too long.
pub fn verdict(plan: &StopPlan) -> Option<String> {
    let own = plan.means.iter().find(|m| m.mean == plan.sample.mean)?;
    let e = own.exact?;
    let ends = match plan.rule {
        StopRule::ProbabilityRatio(_) => format!(
            "{} of rounds decide for high and {} for low, {} come to the end undecided",
            percent(e.high),
            percent(e.low),
            percent(e.undecided)
        ),
        _ => format!(
            "the estimate's standard deviation is {} of the mean, and {} of rounds come to the end without having met the line",
            percent(e.relative_error),
            percent(e.undecided)
        ),
    };
    let against = match (plan.fixed_number, e.before_fixed, e.spared) {
        (Some(n), Some(early), Some(spared)) => {
            let animals = if spared >= 0.0 {
                format!("about {} animals are spared on average", rounded(spared))
            } else {
                format!(
                    "about {} more animals are killed on average",
                    rounded(-spared)
                )
            };
            format!(
                " Against {n} samples fixed beforehand, {} of rounds stop earlier, and {animals}, target and others.",
                percent(early)
            )
        }
        _ => String::new(),
    };
    Some(format!(
        "If the mean is what the premises say, {} a sample, a round takes {} samples on average and at most {} in 95 of 100; {ends}.{against}",
        short(own.mean),
        short(e.mean_samples),
        e.samples_95
    ))
}

/// What must be kept in mind.
pub const CAUTIONS: [&str; 4] = [
    "Take the sites in random order, and look at the line after every sample.",
    "A sample whose trap was lost is none: leave it out, do not count it as empty. All samples belong to one round of visits; the rule knows of no other weeks or years.",
    "Stopping at a line makes the mean of the samples a little too high on average, since one stops sooner after rich ones.",
    "The lines are as good as what they rest on: where samples are more clumped than stated, less is known than promised.",
];

/// Where the formulas come from.
pub fn sources(rule: &StopRule) -> &'static str {
    match rule {
        StopRule::Green(_) => {
            "Green 1970, Researches on Population Ecology 12:249; Taylor 1961, Nature 189:732; Karandinos 1976, Bulletin of the Entomological Society of America 22:417; Southwood & Henderson 2000, Ecological Methods."
        }
        StopRule::Kuno(_) => {
            "Kuno 1969, Researches on Population Ecology 11:127; Iwao 1968, Researches on Population Ecology 10:1; Karandinos 1976, Bulletin of the Entomological Society of America 22:417; Southwood & Henderson 2000, Ecological Methods."
        }
        StopRule::ProbabilityRatio(_) => {
            "Wald 1947, Sequential Analysis; Waters 1955, Forest Science 1:68; Southwood & Henderson 2000, Ecological Methods."
        }
    }
}

#[cfg(test)]
mod tests;
