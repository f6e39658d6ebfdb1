//! A design: when one looks, and by what rule one stops.

use super::fraction::Fractions;
use super::spending::Spending;
use super::upper;
use super::{futility, lines::Lines, outcome::Outcome};

/// Whether a change in either direction counts, or in one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// One: large statistics speak for the change.
    One,
    /// Two: those far from 0 on either side do. Futility lines then bound a wedge about 0.
    Two,
}

impl Sides {
    /// 1 or 2.
    pub fn number(self) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Two => 2.0,
        }
    }
}

/// The shape of the upper lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Boundary {
    /// The same line at every look (Pocock 1977, Biometrika 64:191-199).
    Pocock,
    /// A line that falls as C / sqrt(t), where t is the share of the information (O'Brien & Fleming 1979, Biometrics
    /// 35:549-556).
    OBrienFleming,
    /// Whatever spends the level as a function says (Lan & DeMets 1983, Biometrika 70:659-663).
    Spend(Spending),
}

/// Where the futility lines lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FutilityRule {
    /// The lines spend `beta`, the chance of stopping for futility although the effect is there, as
    /// 2 - 2 Phi(z(1 - beta/2) / sqrt t): what would be spent at the last look is not.
    BetaSpending {
        /// All that may be spent.
        beta: f64,
    },
    /// One stops where the chance of ending beyond the last upper line, were the effect as supposed, has fallen below this
    /// (stochastic curtailment: Lan, Simon & Halperin 1982, Commun. Stat. C 1:207-219; Jennison & Turnbull 2000, chapter 10).
    ConditionalPower {
        /// The least conditional power to go on with.
        at_least: f64,
    },
}

/// Stopping for futility.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Futility {
    /// Where the lines lie.
    pub rule: FutilityRule,
    /// Whether a survey beyond a futility line always stops. If so the upper lines may lie a little lower; if not they
    /// hold the level even when futility lines are never used.
    pub binding: bool,
    /// The supposed effect over its final standard error.
    pub drift: f64,
}

/// A group-sequential design.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// When one looks.
    pub fractions: Fractions,
    /// One side or two.
    pub sides: Sides,
    /// The accepted error, both sides together.
    pub level: f64,
    /// Shape of the upper lines.
    pub boundary: Boundary,
    /// Stopping for futility, if at all.
    pub futility: Option<Futility>,
}

/// Rounds in which upper and binding futility lines are fitted to each other, at most; they agree long before.
const ROUNDS: usize = 60;

impl Design {
    /// The lines.
    pub fn lines(&self) -> Lines {
        let none = vec![None; self.fractions.looks()];
        let mut upper = upper::lines(self, &none);
        let Some(futility) = &self.futility else {
            return Lines {
                upper,
                futility: none,
            };
        };
        let mut lower = futility::lines(self, futility, &upper);
        if futility.binding {
            for _ in 0..ROUNDS {
                let next = upper::lines(self, &lower);
                let moved = next.iter().zip(&upper).map(|(a, b)| (a - b).abs());
                let moved = moved.fold(0.0, f64::max);
                upper = next;
                lower = futility::lines(self, futility, &upper);
                if moved < 1e-9 {
                    break;
                }
            }
        }
        Lines {
            upper,
            futility: lower,
        }
    }

    /// What comes of walks whose effect is `drift` of its final standard errors.
    pub fn outcome(&self, lines: &Lines, drift: f64) -> Outcome {
        self.outcome_with(lines, &self.fractions.means(drift))
    }

    /// What comes of walks whose statistics have these means.
    pub fn outcome_with(&self, lines: &Lines, means: &[f64]) -> Outcome {
        Outcome::of(&self.fractions, means, self.sides, lines)
    }

    /// The type I error: of futility lines that are not binding as if they were never used.
    pub fn error(&self, lines: &Lines) -> f64 {
        let ignored = self.futility.is_some_and(|f| !f.binding);
        let used = if ignored {
            lines.without_futility()
        } else {
            lines.clone()
        };
        self.outcome(&used, 0.0).found()
    }

    /// The drift at which the design finds the effect with this power, on the effect's own side.
    pub fn drift_for(&self, lines: &Lines, power: f64) -> f64 {
        let short = |drift: f64| self.outcome(lines, drift).found_on_its_side() - power;
        numerics::root::bracketed(short, 0.0, 20.0, 1e-10)
    }

    /// Final information over that of a test without looks of the same level and power: what the looks cost when none
    /// stops early.
    pub fn inflation(&self, lines: &Lines, power: f64) -> f64 {
        let alone = Self {
            fractions: Fractions::even(1),
            futility: None,
            ..self.clone()
        };
        let ratio = self.drift_for(lines, power) / alone.drift_for(&alone.lines(), power);
        ratio * ratio
    }
}
