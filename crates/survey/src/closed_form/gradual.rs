//! The smallest change that a plan finds, searched for in small steps: the same number as [`preview`]'s, for whoever must not
//! be kept waiting while a variance that takes long is worked out a score of times.

use super::{
    Judged, drift_towards, effect_size, in_words_of_question, preview, scale, standard_error_at,
    variances_at,
};
use crate::scenario::{Checked, Effect};
use numerics::root::Bracket;

/// Relative width to which the change is found, here and in a preview.
pub(super) const TOLERANCE: f64 = 1e-9;

#[derive(Clone, Debug)]
enum State {
    Begin,
    /// Looking for an effect that is large enough.
    Rising(f64),
    Root(Bracket),
    Done,
}

/// A search.
#[derive(Clone, Debug)]
pub struct Gradual {
    state: State,
    /// The noncentrality wanted, and what the drift adds.
    wanted: f64,
    drift: f64,
    /// Power for the stated change, when it is known.
    pub power: f64,
    /// The smallest change in the question's unit, when the search is at its end; NaN when there is none.
    pub smallest: f64,
}

impl Default for Gradual {
    fn default() -> Self {
        Self {
            state: State::Begin,
            wanted: f64::NAN,
            drift: 0.0,
            power: f64::NAN,
            smallest: f64::NAN,
        }
    }
}

impl Gradual {
    /// Takes a step of the search for the scenario's plan; false when it was the last.
    pub fn step(&mut self, s: &Checked) -> bool {
        let plan = &s.plan;
        let short =
            |effect: f64| (effect + self.drift) / standard_error_at(s, plan, effect) - self.wanted;
        let next = match &mut self.state {
            State::Begin => return self.begin(s),
            State::Rising(high) => {
                let most = scale::largest_effect(s);
                let enough = short(*high);
                if enough >= 0.0 {
                    State::Root(Bracket::new((0.0, short(0.0)), (*high, enough), TOLERANCE))
                } else if *high >= most {
                    State::Done
                } else {
                    State::Rising((1.5 * *high).min(most))
                }
            }
            State::Root(bracket) => {
                let mut bracket = bracket.clone();
                match bracket.ask() {
                    Some(x) => {
                        bracket.tell(short(x));
                        State::Root(bracket)
                    }
                    None => {
                        self.smallest = in_words_of_question(s, bracket.root());
                        State::Done
                    }
                }
            }
            State::Done => return false,
        };
        self.state = next;
        !matches!(self.state, State::Done)
    }

    fn begin(&mut self, s: &Checked) -> bool {
        let plan = &s.plan;
        if matches!(
            s.question.effect,
            Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_)
        ) {
            let told = preview(s, plan);
            (self.power, self.smallest) = (told.power, told.smallest_change);
            self.state = State::Done;
            return false;
        }
        let effect = effect_size(s);
        let judged = Judged::new(s, plan, variances_at(s, plan, effect));
        self.power = judged.power(effect);
        self.wanted = judged.wanted();
        self.drift = drift_towards(s, plan);
        // Where the drift alone is found as often as wanted, no change is needed.
        if self.drift / standard_error_at(s, plan, 0.0) >= self.wanted {
            self.smallest = in_words_of_question(s, 0.0);
            self.state = State::Done;
            return false;
        }
        self.state = State::Rising(effect.min(scale::largest_effect(s)));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;

    /// The same digits as those of a preview, whatever is asked.
    #[test]
    fn the_same_number_as_a_preview() {
        for text in [
            include_str!("../../../../demo-data/meadow-beetles.json"),
            include_str!("../../../../demo-data/meadow-no-worse.json"),
            include_str!("../../../../demo-data/mountain-edge.json"),
            include_str!("../../../../demo-data/mountain-occupancy.json"),
            include_str!("../../../../demo-data/orchard-baseline.json"),
        ] {
            let s = read(text).unwrap().check().unwrap();
            let mut search = Gradual::default();
            let mut steps = 1;
            while search.step(&s) {
                steps += 1;
            }
            let want = preview(&s, &s.plan);
            assert!(steps < 60);
            assert_eq!(
                (search.power, search.smallest),
                (want.power, want.smallest_change),
                "{}",
                s.question.effect.key()
            );
        }
    }
}
