//! The smallest change that a plan finds, searched for in small steps: the same number as [`preview`]'s, for whoever must not
//! be kept waiting while a variance that takes long is worked out a score of times.

use super::{
    Judged, drift_towards, effect_size, in_words_of_question, preview, scale, standard_error_at,
    variances_at,
};
use crate::scenario::{Checked, Effect};

/// Relative width to which the change is found, as in a preview.
const TOLERANCE: f64 = 1e-6;

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

/// The search of [`numerics::root::bracketed`] with each value of f told from outside; a test holds the two together.
#[derive(Clone, Debug)]
struct Bracket {
    a: f64,
    b: f64,
    fa: f64,
    fb: f64,
    tolerance: f64,
    step: u32,
    /// Where f was asked for.
    asked: f64,
    root: Option<f64>,
}

/// Most steps of a search.
const MOST_STEPS: u32 = 200;

impl Bracket {
    /// Between two places with their values of f.
    fn new((a, fa): (f64, f64), (b, fb): (f64, f64), tolerance: f64) -> Self {
        let root = if fa == 0.0 {
            Some(a)
        } else if fb == 0.0 {
            Some(b)
        } else if (fa > 0.0) == (fb > 0.0) {
            Some(if fa.abs() < fb.abs() { a } else { b })
        } else {
            None
        };
        Self {
            a,
            b,
            fa,
            fb,
            tolerance,
            step: 0,
            asked: a,
            root,
        }
    }

    /// Where f is wanted next; `None` when the root is found.
    fn ask(&mut self) -> Option<f64> {
        let (a, b) = (self.a, self.b);
        let narrow = (b - a).abs() <= self.tolerance * (a.abs() + b.abs());
        if self.root.is_some() || narrow || self.step >= MOST_STEPS {
            return None;
        }
        let secant = b - self.fb * (b - a) / (self.fb - self.fa);
        let inside = secant > a.min(b) && secant < a.max(b);
        self.asked = if self.step % 3 == 2 || !inside {
            0.5 * (a + b)
        } else {
            secant
        };
        self.step += 1;
        Some(self.asked)
    }

    /// The value of f there.
    fn tell(&mut self, fx: f64) {
        let x = self.asked;
        if fx == 0.0 {
            self.root = Some(x);
        } else if (fx > 0.0) == (self.fb > 0.0) {
            self.b = x;
            self.fb = fx;
            self.fa *= 0.5;
        } else {
            self.a = self.b;
            self.fa = self.fb;
            self.b = x;
            self.fb = fx;
        }
    }

    /// The root as far as it is known.
    fn root(&self) -> f64 {
        self.root.unwrap_or(0.5 * (self.a + self.b))
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
