//! What surveys that may stop early kill, and what they spare.

use super::{End, shares};
use crate::closed_form::still_shares;
use crate::evaluate::Replicate;
use crate::looks::{cumulated, expected_by_end};
use crate::scenario::{Checked, Class};
use crate::summary::answer::Evidence;
use serde::Serialize;

/// Mean numbers of animals, or expected costs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spared {
    /// Of the plan without looks.
    pub fixed: f64,
    /// Of the plan with looks.
    pub with_looks: f64,
    /// The difference.
    pub spared: f64,
}

impl Spared {
    pub(super) fn new(fixed: f64, with_looks: f64) -> Self {
        Self {
            fixed,
            with_looks,
            spared: fixed - with_looks,
        }
    }

    fn and(self, other: Self) -> Self {
        Self::new(self.fixed + other.fixed, self.with_looks + other.with_looks)
    }
}

/// The same of one by-catch group, or of another species that is asked about.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GroupSpared {
    /// The group.
    pub group: String,
    /// Its class.
    pub class: Class,
    /// Its animals.
    #[serde(flatten)]
    pub animals: Spared,
}

/// The toll with and without looks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LooksToll {
    /// Target animals.
    pub target: Spared,
    /// By-catch by group.
    pub bycatch: Vec<GroupSpared>,
    /// All animals.
    pub total: Spared,
}

fn told(scenario: &Checked, target: Spared, groups: Vec<Spared>) -> LooksToll {
    let killed = scenario.premises.killed_besides();
    let named = killed.iter().zip(&groups).map(|(k, &animals)| GroupSpared {
        group: k.group.name.clone(),
        class: k.group.class,
        animals,
    });
    LooksToll {
        target,
        bycatch: named.collect(),
        total: groups.iter().fold(target, |all, g| all.and(*g)),
    }
}

/// Mean over surveys of a kill year by year, by the end of the survey and by the end of its years.
fn mean<'a>(
    kills: impl Iterator<Item = (&'a [f64], End)>,
    looks: &[u32],
    surveys: usize,
) -> Spared {
    let (mut fixed, mut stopped) = (0.0, 0.0);
    for (yearly, end) in kills {
        let by = cumulated(yearly, looks);
        fixed += by.last().copied().unwrap_or(0.0);
        stopped += by.get(end.look).copied().unwrap_or(0.0);
    }
    Spared::new(fixed / surveys as f64, stopped / surveys as f64)
}

/// Kills of one group year by year.
fn of_group(r: &Replicate, group: usize) -> &[f64] {
    let years = r.killed.len();
    r.bycatch
        .get(group * years..(group + 1) * years)
        .unwrap_or(&[])
}

/// With the stated change: survey by survey; `None` without any.
pub(super) fn with_change(
    scenario: &Checked,
    looks: &[u32],
    whole: &Evidence,
    ends: &[End],
) -> Option<LooksToll> {
    let n = ends.len();
    let surveys = || whole.change.iter().zip(ends.iter().copied());
    let groups = scenario.premises.killed_besides().len();
    let group = |g| mean(surveys().map(|(r, e)| (of_group(r, g), e)), looks, n);
    (n > 0).then(|| {
        let target = mean(surveys().map(|(r, e)| (&r.killed[..], e)), looks, n);
        told(scenario, target, (0..groups).map(group).collect())
    })
}

/// Without it: the target survey by survey; by-catch, which is drawn with the change alone and has nothing to do with
/// when a survey stops, by its mean of each year. Other species that are asked about do not change either.
pub(super) fn without(
    scenario: &Checked,
    looks: &[u32],
    whole: &Evidence,
    ends: &[End],
) -> Option<LooksToll> {
    let n = ends.len();
    if n == 0 || whole.change.is_empty() {
        return None;
    }
    let surveys = whole.still.iter().zip(ends.iter().copied());
    let target = mean(surveys.map(|(r, e)| (&r.killed[..], e)), looks, n);
    let still = still_shares(scenario, &scenario.plan);
    let ending = shares(looks.len(), ends)?;
    let killed = scenario.premises.killed_besides();
    let groups = killed.iter().enumerate().map(|(g, killed)| {
        let mut yearly = vec![0.0; scenario.plan.years as usize];
        for r in &whole.change {
            let each = yearly.iter_mut().zip(of_group(r, g));
            each.for_each(|(sum, kill)| *sum += kill / whole.change.len() as f64);
        }
        if killed.asked_about {
            let each = yearly.iter_mut().zip(&still);
            each.for_each(|(kill, share)| *kill *= share);
        }
        Spared::new(
            yearly.iter().sum(),
            expected_by_end(&ending, looks, &yearly),
        )
    });
    Some(told(scenario, target, groups.collect()))
}
