//! The lines of a plan's looks.

use crate::closed_form;
use crate::scenario::{Checked, Direction, FutilityRule, LookBoundary, LookFutility, Plan, Test};
use models::sequential::{
    BadFractions, Boundary, Design, Fractions, Futility, FutilityRule as Rule, Lines, Sides,
    Spending, on_t_scale,
};
use serde::Serialize;
use thiserror::Error;

/// Why a scenario has no lines.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Trouble {
    /// It plans no looks.
    #[error("plan.looks: missing: this scenario plans no looks; give after_years and boundary")]
    NoLooks,
    /// The information does not rise as it must.
    #[error(
        "plan.looks.after_years: the information after {years:?} years does not do for looks: {why}"
    )]
    Information {
        /// The years.
        years: Vec<u32>,
        /// What is wrong.
        why: BadFractions,
    },
    /// The stated change cannot be told at all.
    #[error("plan.looks: by closed form this plan tells the change with no precision at all")]
    NoEffect,
}

/// One look and its lines.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LookLines {
    /// After how many years.
    pub year: u32,
    /// Share of the final information.
    pub information: f64,
    /// What the statistic must exceed on the scale of the normal distribution.
    pub z: f64,
    /// The nominal level: the chance of a statistic beyond it by luck at this look alone, both directions together where
    /// either counts.
    pub nominal: f64,
    /// Degrees of freedom of the look's t; `null` where the statistic is taken for normal. Under Satterthwaite's test each
    /// survey is held against degrees of its own, and these are those of yearly means.
    pub df: Option<f64>,
    /// What the statistic must exceed on the scale of t.
    pub t: f64,
    /// Below this one stops for futility, on the scale of the normal distribution; `null` where one does not.
    pub futility_z: Option<f64>,
    /// The same on the scale of t.
    pub futility_t: Option<f64>,
}

/// A plan's looks.
#[derive(Clone, Debug, PartialEq)]
pub struct LooksPlan {
    /// Years of the looks, the last of all included.
    pub years: Vec<u32>,
    /// Degrees of freedom at each; infinite where the statistic is taken for normal.
    pub df: Vec<f64>,
    /// The design.
    pub design: Design,
    /// Its lines on the normal scale.
    pub lines: Lines,
    /// The effect over its final standard error, by closed form.
    pub drift: f64,
}

/// The plan after so many years.
pub(crate) fn after(plan: &Plan, years: u32) -> Plan {
    Plan {
        years,
        looks: None,
        ..plan.clone()
    }
}

fn boundary(of: LookBoundary) -> Boundary {
    match of {
        LookBoundary::Pocock => Boundary::Pocock,
        LookBoundary::ObrienFleming => Boundary::OBrienFleming,
        LookBoundary::SpendObrienFleming => Boundary::Spend(Spending::OBrienFleming),
        LookBoundary::SpendObrienFlemingWhole => Boundary::Spend(Spending::OBrienFlemingWhole),
        LookBoundary::SpendPocock => Boundary::Spend(Spending::Pocock),
    }
}

fn futility(of: LookFutility, drift: f64) -> Futility {
    Futility {
        rule: match of.rule {
            FutilityRule::SpendBeta(beta) => Rule::BetaSpending { beta },
            FutilityRule::ConditionalPower(at_least) => Rule::ConditionalPower { at_least },
        },
        binding: of.binding,
        drift,
    }
}

/// The looks of a scenario's plan.
///
/// # Errors
/// When it plans none, or when its information does not rise from look to look.
pub fn looks_plan(scenario: &Checked) -> Result<LooksPlan, Trouble> {
    let plan = &scenario.plan;
    let looks = plan.looks.as_ref().ok_or(Trouble::NoLooks)?;
    let years = looks.all(plan.years);
    let se = |y: &u32| closed_form::standard_error(scenario, &after(plan, *y));
    let errors: Vec<f64> = years.iter().map(se).collect();
    let last = errors.last().copied().unwrap_or(f64::NAN);
    if !(last > 0.0 && last.is_finite()) {
        return Err(Trouble::NoEffect);
    }
    let share = |e: &f64| (last / e) * (last / e);
    let fractions = Fractions::new(errors.iter().map(share).collect());
    let fractions = fractions.map_err(|why| Trouble::Information {
        years: years.clone(),
        why,
    })?;
    let drift = closed_form::effect_size(scenario) / last;
    let design = Design {
        fractions,
        sides: match scenario.question.direction {
            Direction::Either => Sides::Two,
            Direction::Stated => Sides::One,
        },
        level: scenario.question.significance,
        boundary: boundary(looks.boundary),
        futility: looks.futility.map(|f| futility(f, drift)),
    };
    Ok(LooksPlan {
        df: years
            .iter()
            .map(|&y| degrees(scenario, &after(plan, y)))
            .collect(),
        lines: design.lines(),
        years,
        design,
        drift,
    })
}

/// Degrees of freedom of the planned statistic at a look.
fn degrees(scenario: &Checked, plan: &Plan) -> f64 {
    match scenario.analysis.test {
        Test::AnnualIndex => f64::from(plan.years) - 2.0,
        Test::Z | Test::LikelihoodRatio => f64::INFINITY,
        Test::T | Test::Calibrated | Test::Satterthwaite => closed_form::t_degrees(scenario, plan),
    }
}

impl LooksPlan {
    /// The lines, all of them `factor` times as far out on the normal scale as designed (1, unless a calibration moves
    /// them; futility lines stay).
    pub fn told(&self, factor: f64) -> Vec<LookLines> {
        let nominal = Lines {
            upper: self.lines.upper.iter().map(|u| factor * u).collect(),
            futility: self.lines.futility.clone(),
        }
        .nominal(self.design.sides);
        (0..self.years.len())
            .map(|k| {
                let (z, df) = (factor * self.lines.upper[k], self.df[k]);
                // With two sides a line at or below 0 stops nothing.
                let futility =
                    self.lines.futility[k].filter(|f| self.design.sides == Sides::One || *f > 0.0);
                LookLines {
                    year: self.years[k],
                    information: self.design.fractions.all()[k],
                    z,
                    nominal: nominal[k],
                    df: df.is_finite().then_some(df),
                    t: on_t_scale(z, df),
                    futility_z: futility,
                    futility_t: futility.map(|f| on_t_scale(f, df)),
                }
            })
            .collect()
    }
}
