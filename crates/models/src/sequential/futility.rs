//! Futility lines.

use super::design::{Design, Futility, FutilityRule};
use super::region::Look;
use super::spending::Spending;
use super::walk::Walk;
use numerics::root::bracketed;
use numerics::special::normal;

/// The chance that the last statistic lies above `last_line`, given the statistic `now` at the share `fraction` of the
/// information, and an effect of `drift` final standard errors; looks between are left out of account
/// (Jennison & Turnbull 2000, equation 10.1).
pub fn conditional_power(now: f64, fraction: f64, last_line: f64, drift: f64) -> f64 {
    let left = 1.0 - fraction;
    normal::cdf((now * fraction.sqrt() + drift * left - last_line) / left.sqrt())
}

/// The statistic at which the conditional power is `at_least`.
fn where_power_is(at_least: f64, fraction: f64, last_line: f64, drift: f64) -> f64 {
    let left = 1.0 - fraction;
    (last_line - drift * left + normal::quantile(at_least) * left.sqrt()) / fraction.sqrt()
}

/// The futility lines that go with these upper lines: never above them, and none at the last look.
pub(super) fn lines(design: &Design, futility: &Futility, upper: &[f64]) -> Vec<Option<f64>> {
    let fractions = design.fractions.all();
    let before_last = fractions.len() - 1;
    let last_line = upper[before_last];
    let mut lines: Vec<Option<f64>> = match futility.rule {
        FutilityRule::ConditionalPower { at_least } => fractions[..before_last]
            .iter()
            .zip(upper)
            .map(|(&t, &u)| Some(where_power_is(at_least, t, last_line, futility.drift).min(u)))
            .collect(),
        FutilityRule::BetaSpending { beta } => spent(design, futility, beta, upper),
    };
    lines.push(None);
    lines
}

/// Lines that spend beta where the effect is there.
fn spent(design: &Design, futility: &Futility, beta: f64, upper: &[f64]) -> Vec<Option<f64>> {
    let fractions = design.fractions.all();
    let means = design.fractions.means(futility.drift);
    let mut walk = Walk::new(fractions, &means, design.sides);
    let (mut gone, mut lines) = (0.0, Vec::new());
    for (k, &t) in fractions[..fractions.len() - 1].iter().enumerate() {
        let share = Spending::OBrienFleming.spent(beta, 1.0, t) - gone;
        let look = |line: f64| Look {
            upper: upper[k],
            futility: Some(line),
        };
        // With two sides a line at or below 0 stops nothing.
        let lowest = (means[k] - super::region::FARTHEST).min(upper[k]);
        let line = bracketed(|f| walk.futile(look(f)) - share, lowest, upper[k], 1e-12);
        gone += walk.futile(look(line));
        walk.pass(look(line));
        lines.push(Some(line));
    }
    lines
}
