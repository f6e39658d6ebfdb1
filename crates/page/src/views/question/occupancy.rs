//! A change of the share of occupied sites.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use engine::scenario::{
    Effect, Occupancy, OccupancyChange, Premise, Scenario, Scheme, Seasons, Source, Visits,
};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "occupancy",
    label: "Detect a change of the share of sites",
    begin,
    part,
    aside: "A site where the target lives may show none: how easily it is caught there follows from the premises of the catch, which are those of occupied sites here. A visit is a week of trapping with all traps of a site.",
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::Occupancy(OccupancyChange {
        to_share: 0.3,
        over_years: 10.0,
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
        " with "
        {target(model)}
        " from "
        {number(model, "premises.occupancy.occupied", "share of sites occupied at first, in per cent", 100.0)}
        " % to "
        {number(model, "question.effect.occupancy.to_share", "share of sites occupied at the end, in per cent", 100.0)}
        " % over "
        {number(model, "question.effect.occupancy.over_years", "years over which it changes", 1.0)}
        " years, where "
        {direction(model, "a change either way counts", "only a change this way counts")}
        ","
        {errors(model)}
    }
    .into_any()
}
