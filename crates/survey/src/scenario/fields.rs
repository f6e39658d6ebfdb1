//! Every number of a scenario with its name, unit and bounds: one list for the checks, the page's controls, the
//! command line's messages and the schema.

mod of_bycatch;
mod of_costs;
mod of_departures;
mod of_gentle;
mod of_looks;
mod of_reproductives;
mod of_revisit;
mod of_scenario;
mod of_target;
mod shapes;

pub use of_bycatch::BYCATCH;
pub use of_costs::{COSTS, STEPPED};
pub use of_departures::DEPARTURES;
pub use of_gentle::{CATCH_FACTOR, TRAP_OPTION};
pub use of_looks::LOOKS;
pub use of_reproductives::{OTHERS_REPRODUCTIVES, REPRODUCTIVES};
pub use of_revisit::{RETURNS, REVISIT};
pub use of_scenario::SCENARIO;
pub use of_target::TARGET;

use super::Scenario;
use super::premise::Premise;

/// A number of the scenario.
#[derive(Clone, Copy)]
pub struct Field<T: 'static> {
    /// Place in the file, keys joined by dots (for premises, without the final `value`).
    pub path: &'static str,
    /// Name on the page.
    pub label: &'static str,
    /// Unit, empty for plain numbers.
    pub unit: &'static str,
    /// Smallest value allowed.
    pub low: f64,
    /// Largest value allowed.
    pub high: f64,
    /// A whole number.
    pub whole: bool,
    /// Step of the page's control.
    pub step: f64,
    /// The number, when the scenario has it.
    pub read: fn(&T) -> Option<f64>,
    /// Sets the number, when the scenario has it.
    pub write: fn(&mut T, f64),
    /// The premise it is, when it is one.
    pub premise: Option<fn(&T) -> Option<&Premise>>,
    /// The premise to change its source.
    pub premise_mut: Option<fn(&mut T) -> Option<&mut Premise>>,
}

impl<T> Field<T> {
    /// The bound in words: "a whole number from 2 to 2000".
    pub fn bound(&self) -> String {
        let kind = if self.whole {
            "a whole number"
        } else {
            "a number"
        };
        format!(
            "{kind} from {} to {}{}{}",
            self.low,
            self.high,
            if self.unit.is_empty() { "" } else { " " },
            self.unit
        )
    }

    /// Whether a value is allowed.
    pub fn allows(&self, value: f64) -> bool {
        value >= self.low && value <= self.high && (!self.whole || value.fract() == 0.0)
    }
}

/// The scenario's own numbers, its looks, those of reproductives, its departures, what does not come back, its
/// revisit pattern and its costs, in file order but for all after the first.
pub fn all() -> impl Iterator<Item = &'static Field<Scenario>> {
    SCENARIO
        .iter()
        .chain(LOOKS)
        .chain(REPRODUCTIVES)
        .chain(DEPARTURES)
        .chain(RETURNS)
        .chain(REVISIT)
        .chain(COSTS)
}

/// The field at a path, such as `plan.sites` or `premises.trap_loss.value`.
pub fn find(path: &str) -> Option<&'static Field<Scenario>> {
    let path = path.strip_suffix(".value").unwrap_or(path);
    all().find(|f| f.path == path)
}

/// The bound in words of whatever number stands at a path, by-catch groups and other species included.
pub fn bound_at(path: &str) -> Option<String> {
    let path = path.strip_suffix(".value").unwrap_or(path);
    if let Some(rest) = path.strip_prefix("premises.bycatch[") {
        let key = rest.split_once("].")?.1;
        return BYCATCH.iter().find(|f| f.path == key).map(Field::bound);
    }
    if let Some(rest) = path.strip_prefix("premises.others[") {
        let key = rest.split_once("].")?.1;
        let mut all = TARGET.iter().chain(OTHERS_REPRODUCTIVES);
        return all.find(|f| f.path == key).map(Field::bound);
    }
    if let Some(rest) = path.strip_prefix("premises.costs.stepped[") {
        let key = rest.split_once("].")?.1;
        return STEPPED.iter().find(|f| f.path == key).map(Field::bound);
    }
    if let Some(rest) = path.strip_prefix("premises.trap_options[") {
        let key = rest.split_once("].")?.1;
        if let Some((_, key)) = key.split_once("].") {
            return CATCH_FACTOR
                .iter()
                .find(|f| f.path == key)
                .map(Field::bound);
        }
        return TRAP_OPTION.iter().find(|f| f.path == key).map(Field::bound);
    }
    find(path).map(Field::bound)
}
