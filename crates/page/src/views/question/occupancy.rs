//! A change of the share of occupied sites.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, occupancy as words};
use engine::scenario::{
    Effect, Occupancy, OccupancyChange, Premise, Scenario, Scheme, Seasons, Source, Visits,
};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "occupancy",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    // Over the years of a plan that had some; the first and the last of them are trapped.
    let over_years = match s.plan.years {
        0..=2 => 10.0,
        years => f64::from(years),
    };
    s.question.effect = Effect::Occupancy(OccupancyChange {
        to_share: 0.3,
        over_years,
    });
    s.premises.occupancy = Some(Occupancy {
        occupied: Premise::new(0.6, Source::Guess),
        left_each_year: Premise::new(0.1, Source::Guess),
    });
    s.plan.visits = Some(Visits {
        scheme: Scheme::Standard,
        seasons: Seasons::FirstAndLast,
    });
    s.plan.years = 2;
    if s.plan.weeks < 2 {
        s.plan.weeks = 2;
        s.plan.chosen_weeks = None;
    }
    s.limits.weeks = s.limits.weeks.max(2);
    if s.plan.first_week + s.plan.weeks > 54 {
        s.plan.first_week = 54 - s.plan.weeks;
    }
}

fn part(model: Model) -> AnyView {
    view! {
        {words::WITH}
        {target(model)}
        {words::FROM}
        {number(model, "premises.occupancy.occupied", words::FIRST_SHARE, 100.0)}
        {words::PER_CENT_TO}
        {number(model, "question.effect.occupancy.to_share", words::LAST_SHARE, 100.0)}
        {shared::PER_CENT_OVER}
        {number(model, "question.effect.occupancy.over_years", words::YEARS, 1.0)}
        {shared::YEARS_WHERE}
        {direction(model, shared::EITHER_CHANGE, words::ONLY_THIS_WAY)}
        ","
        {errors(model)}
    }
    .into_any()
}
