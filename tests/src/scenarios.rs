//! Small scenarios for tests.

use survey::scenario::{
    Analysis, Checked, Counts, Decline, Departures, Direction, Effect, Likelihood, Limits, Plan,
    Premise, Premises, Question, Scenario, Source, Target, Test, TrapPoints,
};

fn invented(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

/// The design of reference set b: 30 sites, 10 years, one count each, mean 12 in the first year, k 2, site SD .8,
/// year SD .2, slope -.04 a year; analysed by maximum likelihood.
pub fn set_b() -> Scenario {
    Scenario {
        leastcatch: 1,
        title: "reference set b".into(),
        notes: "Invented.".into(),
        question: Question {
            effect: Effect::Decline(Decline {
                change_percent: 100.0 * (1.0 - (-0.4f64).exp()),
                over_years: 10.0,
            }),
            direction: Direction::Either,
            significance: 0.05,
            wanted_power: 0.8,
            several: None,
        },
        premises: Premises {
            target: Target {
                name: "animals".into(),
                catch_per_trap_week: invented(12.0),
                dispersion_k: invented(2.0),
                site_sd: invented(0.8),
                year_sd: invented(0.2),
                site_year_sd: invented(0.0),
                trap_sd: invented(0.0),
                season_peak_week: invented(20.0),
                season_width_weeks: invented(4.0),
                reproductives: None,
            },
            bycatch: vec![],
            others: vec![],
            trap_loss: invented(0.0),
            gradient: None,
            pair_correlation: None,
            occupancy: None,
            community: None,
            costs: None,
            local_population: None,
            trap_options: vec![],
            departures: Departures::default(),
            attrition: Premise::new(0.0, Source::Guess),
            late_share: Premise::new(0.0, Source::Guess),
        },
        plan: Plan {
            sites: 30,
            traps_per_site: 1,
            first_week: 20,
            weeks: 1,
            chosen_weeks: None,
            exposure_days: 7.0,
            years: 10,
            transect: None,
            groups: None,
            visits: None,
            stop_rule: None,
            looks: None,
            trap_points: TrapPoints::Same,
            trap_option: None,
            places: Vec::new(),
            revisit: None,
            gap_years: Vec::new(),
        },
        limits: Limits {
            sites: 60,
            traps_per_site: 4,
            weeks: 6,
            ..Limits::default()
        },
        analysis: Analysis {
            detection: survey::scenario::Detection::EachYear,
            counts: Counts::NegativeBinomial,
            likelihood: Likelihood::Maximum,
            test: Test::T,
            ..Analysis::default()
        },
    }
}

/// Checked, or the test stops.
pub fn checked(scenario: Scenario) -> Checked {
    scenario.check().unwrap_or_else(|f| panic!("{f:?}"))
}
