//! What is said of an answer about occupied sites: detection, what closing spares, the split of the effort.

use crate::number::{count, percent};
use survey::scenario::{Scenario, Scheme};
use survey::summary::Answer;

/// Detection, lives spared and the best split; `None` but for the question of occupancy.
pub fn occupancy(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let told = answer.occupancy.as_ref()?;
    let visits = scenario.plan.visits.as_ref()?;
    let mut text = format!(
        "At an occupied site one week shows the target with chance {}, the {} weeks of a year with {} (from the premises of the catch).",
        percent(told.detection_per_visit),
        answer.plan.weeks,
        percent(told.detection_per_year)
    );
    if let Some(spared) = told.spared {
        let rule = match visits.scheme {
            Scheme::Removal => "closing a site after its first catch",
            _ => "closing sites without a catch in the first week",
        };
        text.push_str(&format!(
            " By {rule}, about {} of {} animals are spared.",
            count(spared),
            count(told.toll_of_all_weeks)
        ));
    }
    if let Some(split) = told.best_split.filter(|_| answer.preview.power.is_finite()) {
        let same = split.weeks == answer.plan.weeks;
        if same {
            text.push_str(" For as many site-weeks no other split between sites and weeks has more power by closed form.");
        } else {
            text.push_str(&format!(
                " As many site-weeks at {} sites for {} weeks each would have a power of {} by closed form, where this plan has {}.",
                split.sites,
                split.weeks,
                percent(split.preview_power),
                percent(answer.preview.power)
            ));
        }
    }
    Some(text)
}
