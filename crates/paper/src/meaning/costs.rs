//! The numbers of what the survey costs.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["costs.field_wage"],
        "wage, travel and field",
        "Money for an hour of travel or field work. The larger it is, the dearer each site, visit and trap; power and toll do not change.",
    )
    .formula("money = wage × hours of travel and field work"),
    says(
        &["costs.laboratory_wage"],
        "wage, laboratory",
        "Money for an hour of sorting, identifying or curating. The larger it is, the dearer each animal caught.",
    )
    .formula("money = wage × hours in the laboratory"),
    says(
        &["costs.sites_per_day"],
        "sites visited in a day",
        "How many sites one day's round takes in. The larger it is, the fewer days of travel; a round takes whole days.",
    )
    .formula("days of a round = sites/sites a day, rounded up"),
    says(
        &["costs.visits_per_week"],
        "visits to a site in a week of trapping",
        "How often each site is visited in a week with open traps: 1 where emptying sets the trap anew, 2 where it is opened and closed. Hours and travel rise with it.",
    ),
    says(
        &["costs.visits_before_season"],
        "visits to a site before a season",
        "How often each site is visited before the first week, such as to set traps up. Each adds a round of travel a year.",
    ),
    says(
        &["costs.people"],
        "people who travel together",
        "How many people travel on a day's round. The hours of travel are multiplied by it, those of the work at the traps are not.",
    )
    .formula("hours of travel = days × people × hours a day"),
    says(
        &["costs.travel_hours_per_day"],
        "travel in a day",
        "Hours on the road on a day with visits, for each person. The larger it is, the more a plan with many rounds costs.",
    ),
    says(
        &["costs.travel_money_per_day"],
        "distance in a day",
        "Money for the distance driven on a day with visits, however many people go. It is paid for every day of every round.",
    ),
    says(
        &["costs.hours_per_site_visit"],
        "work of a visit to a site",
        "Hours of work at each visit to a site, however many traps stand there. The larger it is, the more it pays to have few sites with more traps.",
    ),
    says(
        &["costs.minutes_per_trap"],
        "emptying or setting a trap",
        "Minutes for each trap at each visit in a week of trapping. The larger it is, the dearer each further trap and week.",
    ),
    says(
        &["costs.minutes_to_set_up"],
        "setting a trap up before a season",
        "Minutes for each trap before a season begins, such as digging it in. It counts once a year, so that more weeks do not raise it.",
    ),
    says(
        &["costs.minutes_to_take_down"],
        "taking a trap down after a season",
        "Minutes for each trap when a season is over. Like setting up, it hangs on the number of traps and years and not on that of weeks.",
    ),
    says(
        &["costs.trap_price"],
        "price of a trap",
        "Money for one trap. As many are bought as the year with the most sites needs, and anew when they are worn out.",
    )
    .formula("money = price × traps × times bought"),
    says(
        &["costs.trap_life_years"],
        "a trap lasts",
        "For how many seasons a trap lasts before it is bought anew. The larger it is, the cheaper the traps of a long survey.",
    )
    .formula("times bought = seasons of trapping/seasons a trap lasts, rounded up"),
    says(
        &["costs.money_per_trap_week"],
        "used up by a trap in a week of trapping",
        "Money for fluid, vials, labels and the like of one trap in one week. It rises with the trap-weeks set, lost or not.",
    ),
    says(
        &["costs.sorting_hours_per_sample"],
        "sorting a sample",
        "Hours to sort one sample, whatever is in it. Half an hour to two hours is common practice for pitfalls and light; the larger it is, the dearer each sample.",
    ),
    says(
        &["costs.sorting_minutes_per_100"],
        "sorting a hundred animals, besides",
        "Further minutes for each hundred animals in a sample. The larger it is, the more a heavy catch costs, by-catch included.",
    ),
    says(
        &["costs.minutes_per_target"],
        "identifying an animal of the target",
        "Minutes to name one animal of the target, or of another species asked about. The larger it is, the dearer a rich catch.",
    ),
    says(
        &["costs.minutes_per_bycatch"],
        "identifying an animal of the by-catch",
        "Minutes to name one animal of the by-catch; 0 where it is not named. The larger it is, the more it pays to spare by-catch.",
    ),
    says(
        &["costs.kept_share"],
        "animals of the target that are kept",
        "The share of the target's animals that goes into a collection. The larger it is, the more hours of curation; no more animals die for it.",
    )
    .formula("hours = animals of the target × share kept × minutes each/60"),
    says(
        &["costs.curation_minutes"],
        "curating an animal that is kept",
        "Minutes to pin, label and record one animal that is kept. Three to five minutes a pinned bee are common practice; the larger it is, the dearer each animal kept.",
    ),
    says(
        &["costs.laboratory_lag_weeks"],
        "from the catch to the laboratory",
        "Weeks from a catch to the work on it. It moves hours to other months or the next year; their sum stays the same.",
    ),
    says(
        &["costs.money_per_year"],
        "every year, whatever the plan",
        "Money for each year with trapping, such as coordination, permits and storage. The larger it is, the dearer a long survey.",
    ),
    says(
        &["costs.money_once"],
        "once, whatever the plan",
        "Money that is paid once, in the first year. It adds the same to every plan and favours none.",
    ),
    says(
        &["costs.field_staff_hours"],
        "staff for travel and field",
        "Hours a month that staff have for travel and field work; 0: not stated. Months that need more are told as a shortage.",
    ),
    says(
        &["costs.laboratory_staff_hours"],
        "staff for the laboratory",
        "Hours a month that staff have for the laboratory; 0: not stated. Months with more work than that are told as a backlog.",
    ),
    says(
        &["costs.stepped.takes_on"],
        "what one takes on",
        "How much of a month's work one vehicle, person or the like takes on. The larger it is, the fewer of them are needed.",
    )
    .formula("needed = most in any month/what one takes on, rounded up"),
    says(
        &["costs.stepped.money"],
        "money for one",
        "Money for one of what is needed in whole numbers, such as a vehicle. It comes in steps: one more travel day may cost nothing, or a whole one more.",
    ),
];
