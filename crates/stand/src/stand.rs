//! How the page stands: what a step goes back to, what is kept in the browser, what a link holds.

use engine::Axis;
use engine::scenario::Scenario;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Text that a field could not take, which the field keeps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mark {
    /// What was typed.
    pub text: String,
    /// Why it was refused and what would fit.
    pub problem: String,
}

/// Marks by the path of their fields.
pub type Marks = BTreeMap<String, Mark>;

/// Marks without those of entry `i` of a list; those of later entries move up.
pub fn marks_without(marks: &Marks, list: &str, i: usize) -> Marks {
    let moved = |path: &String| -> Option<String> {
        let Some((at, key)) = path
            .strip_prefix(list)
            .and_then(|rest| rest.strip_prefix('['))
            .and_then(|rest| rest.split_once(']'))
        else {
            return Some(path.clone());
        };
        let at: usize = at.parse().ok()?;
        let now = match at.cmp(&i) {
            std::cmp::Ordering::Less => at,
            std::cmp::Ordering::Equal => return None,
            std::cmp::Ordering::Greater => at - 1,
        };
        Some(format!("{list}[{now}]{key}"))
    };
    let kept = marks.iter();
    kept.filter_map(|(path, mark)| Some((moved(path)?, mark.clone())))
        .collect()
}

/// Everything that a person chose or typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    /// The scenario as edited.
    pub scenario: Scenario,
    /// What was typed and refused.
    pub marks: Marks,
    /// Seed of the random numbers.
    pub seed: u64,
    /// Simulated surveys of each plan and world.
    pub replicates: u64,
    /// What the curve runs over.
    pub axis: Axis,
    /// The demo, file or link loaded last, to which "Reset" goes back.
    pub base: Arc<Scenario>,
}

impl Stand {
    /// A scenario as it was loaded, under the usual settings.
    pub fn of(scenario: Scenario) -> Self {
        Self {
            base: Arc::new(scenario.clone()),
            scenario,
            marks: Marks::new(),
            seed: engine::USUAL_SEED,
            replicates: engine::USUAL_REPLICATES,
            axis: Axis::Sites,
        }
    }
}

/// The axis of a key.
pub fn axis(key: &str) -> Option<Axis> {
    Axis::ALL.into_iter().find(|a| a.key() == key)
}

/// What is kept in the browser from visit to visit.
#[derive(Serialize, Deserialize)]
struct Kept {
    /// The end of the address that the page had then; a reload finds it again, and with it what a link leaves out.
    link: String,
    scenario: Scenario,
    base: Scenario,
    marks: Marks,
    seed: u64,
    replicates: u64,
    axis: String,
}

/// The text that is kept.
pub fn keep(stand: &Stand, link: String) -> String {
    let kept = Kept {
        link,
        scenario: stand.scenario.clone(),
        base: Scenario::clone(&stand.base),
        marks: stand.marks.clone(),
        seed: stand.seed,
        replicates: stand.replicates,
        axis: stand.axis.key().to_string(),
    };
    serde_json::to_string(&kept).unwrap_or_default()
}

/// What was kept, with the end of the address it belongs to.
///
/// # Errors
/// Says where the text cannot be read.
pub fn kept(text: &str) -> Result<(Stand, String), String> {
    let kept: Kept = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let axis = axis(&kept.axis).ok_or_else(|| crate::words::link::axis(&kept.axis))?;
    let stand = Stand {
        scenario: kept.scenario,
        marks: kept.marks,
        seed: kept.seed,
        replicates: kept.replicates.clamp(1, engine::MOST_REPLICATES),
        axis,
        base: Arc::new(kept.base),
    };
    Ok((stand, kept.link))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_comes_back_with_what_was_refused() {
        let base = engine::scenario::read(crate::demos::DEMOS[0].1).expect("a demo");
        let mut stand = Stand::of(base);
        stand.scenario.plan.sites = 13;
        (stand.seed, stand.replicates, stand.axis) = (u64::MAX, 40, Axis::Years);
        let (text, problem) = ("many".to_string(), "give a number".to_string());
        stand
            .marks
            .insert("plan.weeks".into(), Mark { text, problem });
        let text = keep(&stand, "1.abc".into());
        assert_eq!(kept(&text), Ok((stand, "1.abc".into())));
        assert!(kept("{}").is_err());
    }

    #[test]
    fn what_was_refused_moves_up_with_its_entry() {
        let mark = |text: &str| Mark {
            text: text.into(),
            problem: String::new(),
        };
        let marks: Marks = [
            ("premises.bycatch[0].site_sd", "a"),
            ("premises.bycatch[1].site_sd", "b"),
            ("premises.bycatch[2].site_sd", "c"),
            ("plan.sites", "d"),
        ]
        .map(|(path, text)| (path.to_string(), mark(text)))
        .into();
        let left = marks_without(&marks, "premises.bycatch", 1);
        let left: Vec<_> = left
            .iter()
            .map(|(p, m)| (p.as_str(), m.text.as_str()))
            .collect();
        assert_eq!(
            left,
            [
                ("plan.sites", "d"),
                ("premises.bycatch[0].site_sd", "a"),
                ("premises.bycatch[1].site_sd", "c")
            ]
        );
    }
}
