//! Which looks a plan can have.

use super::check::Fault;
use super::{Effect, Scenario};
use models::sequential::MOST_LOOKS;

const PATH: &str = "plan.looks.after_years";

impl Scenario {
    /// Whether the question allows planned looks: those whose estimate gains information from year to year and is judged
    /// by a test.
    pub fn allows_looks(&self) -> bool {
        matches!(
            self.question.effect,
            Effect::Decline(_)
                | Effect::NoWorse(_)
                | Effect::Difference(_)
                | Effect::BeforeAfter(_)
        )
    }
}

pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let Some(looks) = &s.plan.looks else {
        return;
    };
    if !s.allows_looks() {
        faults.push(Fault::Shape {
            path: "plan.looks".into(),
            problem: "planned looks belong to the questions of a decline, of no worse, of a difference and of before and after: remove them or ask one of these".into(),
        });
        return;
    }
    if !s.plan.all_every_year() || s.premises.attrition.value > 0.0 {
        let what = if s.plan.revisit.is_some() {
            "plan.revisit"
        } else if s.plan.all_every_year() {
            "premises.attrition"
        } else {
            "plan.gap_years"
        };
        faults.push(Fault::Shape {
            path: "plan.looks".into(),
            problem: format!(
                "planned looks are worked out for sites that are all visited in every year: remove them or {what}"
            ),
        });
        return;
    }
    let years = s.plan.years;
    let mut bad = |path: String, value: String, bound: String| {
        faults.push(Fault::Bound { path, value, bound });
    };
    let before = looks.after_years.iter().filter(|&&y| y < years).count();
    if before == 0 {
        bad(
            PATH.into(),
            format!("{:?}", looks.after_years),
            format!("at least one year before the last, {years}; or remove plan.looks"),
        );
    }
    if before + 1 > MOST_LOOKS {
        bad(
            PATH.into(),
            format!("{before} looks before the last"),
            format!("at most {}", MOST_LOOKS - 1),
        );
    }
    let fewest = s.fewest_years();
    let mut last = 0;
    for (i, &year) in looks.after_years.iter().enumerate() {
        let place = format!("{PATH}[{i}]");
        if year < fewest || year > years {
            bad(
                place,
                year.to_string(),
                format!(
                    "a whole number of years from {fewest}, the fewest that this question can be asked after, to plan.years, {years}"
                ),
            );
        } else if year <= last {
            bad(
                place,
                year.to_string(),
                format!("more years than the look before, {last}"),
            );
        }
        last = last.max(year);
    }
}
