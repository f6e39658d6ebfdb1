//! Schemes that close a site for the rest of a year: what is then not trapped.

use super::weekly::Weekly;
use crate::scenario::{Checked, Effect, Plan, Scheme};

/// The scheme, when it closes sites.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Closing {
    /// After the first week with a catch.
    AfterFirst,
    /// After the first week, unless it has a catch.
    WithoutFirst,
}

impl Closing {
    /// The closing of a plan's visits; `None` when all weeks are trapped.
    pub fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let Effect::Occupancy(_) = scenario.question.effect else {
            return None;
        };
        match plan.visits.as_ref()?.scheme {
            Scheme::Standard => None,
            Scheme::Removal => Some(Self::AfterFirst),
            Scheme::Conditional => Some(Self::WithoutFirst),
        }
    }

    /// Weeks that are trapped of a site-year with these weekly counts.
    pub fn weeks_open(self, counts: &[f64]) -> usize {
        let all = counts.len();
        match self {
            Self::AfterFirst => counts
                .iter()
                .position(|&c| c > 0.0)
                .map_or(all, |first| first + 1),
            Self::WithoutFirst if counts.first().is_some_and(|&c| c > 0.0) => all,
            Self::WithoutFirst => 1,
        }
    }

    /// Takes the weeks that are not trapped out of a site-year.
    pub fn close(week: &mut Weekly, open: usize) {
        for list in [&mut week.counts, &mut week.effort] {
            list.iter_mut().skip(open).for_each(|v| *v = 0.0);
        }
    }
}

/// For 0 to all weeks: the share of the season's catch that is made in the first so many.
pub(crate) fn shares_upto(season: &[f64]) -> Vec<f64> {
    let total: f64 = season.iter().sum();
    let mut sum = 0.0;
    let mut shares = vec![0.0];
    for w in season {
        sum += w;
        shares.push(if total > 0.0 { sum / total } else { 0.0 });
    }
    shares
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weeks_that_are_trapped() {
        let (after, without) = (Closing::AfterFirst, Closing::WithoutFirst);
        for (counts, a, w) in [
            (&[0.0, 0.0, 0.0][..], 3, 1),
            (&[0.0, 2.0, 1.0], 2, 1),
            (&[4.0, 0.0, 0.0], 1, 3),
            (&[0.0, 0.0, 1.0], 3, 1),
        ] {
            assert_eq!(
                (after.weeks_open(counts), without.weeks_open(counts)),
                (a, w)
            );
        }
        let shares = shares_upto(&[1.0, 2.0, 1.0]);
        assert_eq!(shares, [0.0, 0.25, 0.75, 1.0]);
    }
}
