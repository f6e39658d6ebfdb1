//! Which runs of a job are drawn together: the survey of a small plan is part of that of a larger one.

use crate::plan_run::{PlanRun, SITE_YEARS_TOGETHER, usual_chunk};
use crate::task::Size;
use survey::evaluate::drawn_together;
use survey::scenario::Checked;

/// The runs of `sizes`, and which of them are drawn together, by their places: each run is in one group, in the order
/// of its first. Runs of a group have chunks of one length, `chunk` or else one of some tens of milliseconds.
pub(crate) fn runs(
    scenario: &Checked,
    sizes: &[Size],
    replicates: u64,
    chunk: Option<u64>,
) -> (Vec<PlanRun>, Vec<Vec<usize>>) {
    let plan = |place: usize| &sizes[place].plan;
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for place in 0..sizes.len() {
        // No more than a chunk holds, so that no task is long.
        let fits = |group: &&mut Vec<usize>| {
            let cells: u64 = group.iter().map(|&other| sizes[other].site_years()).sum();
            let mut others = group.iter();
            cells + sizes[place].site_years() <= SITE_YEARS_TOGETHER
                && others.all(|&other| {
                    sizes[other].target == sizes[place].target
                        && drawn_together(scenario, plan(other), plan(place))
                })
        };
        match groups.iter_mut().find(fits) {
            Some(group) => group.push(place),
            None => groups.push(vec![place]),
        }
    }
    let run = |place: usize| {
        let group = groups.iter().find(|g| g.contains(&place));
        let together: Vec<Size> = group
            .into_iter()
            .flatten()
            .map(|&g| sizes[g].clone())
            .collect();
        let chunk = chunk.unwrap_or_else(|| usual_chunk(&together));
        PlanRun::new(sizes[place].clone(), replicates, Some(chunk))
    };
    let runs = (0..sizes.len()).map(run).collect();
    (runs, groups)
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::scenario::{Plan, read};

    fn groups(
        sizes: &[(u32, u32, u32)],
        change: impl Fn(&mut survey::scenario::Scenario),
    ) -> Vec<Vec<usize>> {
        let mut s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        change(&mut s);
        let s = s.check().unwrap();
        let sizes: Vec<Size> = sizes
            .iter()
            .map(|&(sites, years, weeks)| {
                Size::of(&Plan {
                    sites,
                    years,
                    weeks,
                    ..s.plan.clone()
                })
            })
            .collect();
        let (runs, groups) = runs(&s, &sizes, 10, None);
        assert!(runs.iter().zip(&sizes).all(|(r, s)| r.size == *s));
        groups
    }

    #[test]
    fn parts_of_one_survey_are_drawn_together() {
        let sizes = [
            (5, 10, 6),
            (10, 10, 6),
            (10, 5, 6),
            (10, 10, 7),
            (20, 12, 7),
        ];
        assert_eq!(groups(&sizes, |_| ()), [vec![0, 1, 2], vec![3, 4]]);
    }

    #[test]
    fn sites_that_know_each_other_are_not() {
        let correlated = |s: &mut survey::scenario::Scenario| {
            let d = &mut s.premises.departures;
            d.correlation_length_km.value = 5.0;
            d.region_km2.value = 100.0;
        };
        let sizes = [(5, 10, 6), (10, 10, 6), (10, 5, 6)];
        assert_eq!(groups(&sizes, correlated), [vec![0], vec![1, 2]]);
    }

    /// Each species has random numbers of its own.
    #[test]
    fn species_are_not() {
        let s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        let s = s.check().unwrap();
        let of = |target, years| Size {
            target,
            ..Size::of(&Plan {
                years,
                ..s.plan.clone()
            })
        };
        let (_, groups) = runs(&s, &[of(0, 10), of(1, 10), of(0, 5)], 10, None);
        assert_eq!(groups, [vec![0, 2], vec![1]]);
    }

    #[test]
    fn no_task_is_long() {
        let sizes = [(1000, 10, 6), (1500, 10, 6), (100, 10, 6), (2000, 10, 6)];
        assert_eq!(groups(&sizes, |_| ()), [vec![0, 1], vec![2, 3]]);
    }
}
