//! What is told of costs: hours by kind of work, money by what it is for, staff.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["hours.travel", "travel"],
        "hours of travel",
        "Hours on the road of all people together. They rise with rounds of visits and with people in the car, hardly with traps at a site.",
    )
    .formula("days with travel × people × hours a day"),
    says(
        &["hours.field", "field"],
        "hours at the sites",
        "Hours of work at the sites: visits, setting up, emptying and taking down. They rise with sites, traps and weeks, whatever is caught.",
    )
    .formula("visits × hours a visit + traps × visits × minutes a trap/60 + setting up and down"),
    says(
        &["hours.sorting", "sorting"],
        "hours of sorting",
        "Hours to sort samples by kinds of animal. They rise with the number of samples and with all that is in them, by-catch included.",
    )
    .formula("samples × hours a sample + animals × minutes a hundred/6000"),
    says(
        &["hours.identification", "identification"],
        "hours of identification",
        "Hours to name the animals. They rise with the catch, so that lighter samples spare them.",
    )
    .formula("(target × minutes each + by-catch × minutes each)/60"),
    says(
        &["hours.curation", "curation"],
        "hours of curation",
        "Hours to pin, label and record what is kept. They rise with the share of the target that goes into a collection.",
    )
    .formula("animals of the target × share kept × minutes each/60"),
    says(
        &["wages"],
        "wages",
        "Money for all hours of work, in the field and in the laboratory. Mostly the largest part of what a survey costs.",
    )
    .formula("field wage × hours of travel and field + laboratory wage × hours in the laboratory"),
    says(
        &["money.travel"],
        "money for distance",
        "Money for the kilometres driven, over all years. It rises with days of travel and not with the people in the car.",
    )
    .formula("days with travel × money a day"),
    says(
        &["money.traps", "traps"],
        "money for traps",
        "What the traps cost that are bought, and bought again when worn out. Traps that last long make a long survey cheaper.",
    )
    .formula("price × traps of the year with the most × times bought"),
    says(
        &["money.consumables", "consumables"],
        "money for what is used up",
        "What fluid, vials, labels and the like cost over all years. It rises with every trap-week set, lost ones too.",
    )
    .formula("trap-weeks set × money each"),
    says(
        &["money.stepped", "stepped"],
        "stepped costs",
        "What is needed in whole numbers, such as vehicles. A plan just below a step is a bargain: one more day of travel may cost a whole vehicle.",
    )
    .formula("needed in the busiest month, rounded up, × money for one"),
    says(
        &["money.fixed", "fixed"],
        "fixed costs",
        "What is paid whatever the plan, each year and once. They do not tell plans apart but for their years.",
    )
    .formula("money a year × years with trapping + money once"),
    says(
        &["busiest"],
        "busiest month",
        "The most of a kind of work in any month. It decides how many vehicles, people or the like are needed.",
    ),
    says(
        &["stepped.needed"],
        "how many are needed",
        "How many vehicles, people or the like the busiest month asks for. The larger it is, the more stand idle in the other months.",
    )
    .formula("most in any month/what one takes on, rounded up"),
    says(
        &["over_staff"],
        "more work than staff have hours",
        "Hours of work in a month beyond those that staff have. The larger it is, the longer samples wait.",
    )
    .formula("hours of the month − hours that staff have in a month"),
];
