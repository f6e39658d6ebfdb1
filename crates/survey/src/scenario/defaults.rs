//! Premises for what nobody has measured yet: usual in the trade, without a published source.

use super::premise::{Premise, Source};
use super::range_shift::{Edge, Gradient, GradientUnit};

/// The common-practice value (with its range where there is one) of a premise named by its key in the file.
///
/// Log-scale SDs: site .6 (.3 to 1.2), shared year .2 (.1 to .6), site by year .35, trap within site .3; dispersion
/// k 2 for group totals (.5 to 1 for one species); traps lost 5 to 10 %. All judgement of the trade, unsourced.
pub fn common_practice(key: &str) -> Option<Premise> {
    let source = Source::CommonPractice;
    Some(match key {
        "dispersion_k" => Premise::ranged(2.0, 0.5, 5.0, source),
        "site_sd" => Premise::ranged(0.6, 0.3, 1.2, source),
        "year_sd" => Premise::ranged(0.2, 0.1, 0.6, source),
        "site_year_sd" => Premise::ranged(0.35, 0.1, 0.6, source),
        "trap_sd" => Premise::new(0.3, source),
        "trap_loss" => Premise::ranged(0.07, 0.05, 0.2, source),
        "season_width_weeks" => Premise::new(4.0, source),
        _ => return None,
    })
}

/// A gradient to start from when a scenario turns to the range-shift question: a guess to be edited.
pub fn gradient_placeholder() -> Gradient {
    Gradient {
        unit: GradientUnit::Metres,
        optimum: Some(Premise::new(900.0, Source::Guess)),
        tolerance: Some(Premise::new(200.0, Source::Guess)),
        edge: None,
    }
}

/// An edge to start from when a scenario turns to the question of an edge: a guess to be edited.
pub fn edge_placeholder() -> Edge {
    let mut edge = Edge::new(
        Premise::new(1200.0, Source::Guess),
        Premise::new(60.0, Source::Guess),
    );
    edge.redrawn_each_year = Premise::new(0.2, Source::Guess);
    edge
}
