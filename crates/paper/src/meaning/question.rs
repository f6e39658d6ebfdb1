//! The numbers of the question.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["question.effect.decline.change_percent"],
        "fall to be found",
        "How large a fall over the stated years must be found. The larger the fall, the fewer traps, sites or years are needed to see it.",
    )
    .formula("slope a year on the log scale = ln(1 − fall/100)/years"),
    says(
        &["question.effect.decline.over_years"],
        "years of the fall",
        "The years in which the stated fall happens, whether or not the survey runs so long. The more years for the same fall, the slower it is each year and the harder to see.",
    )
    .formula("fall a year = 1 − (1 − fall)^(1/years)"),
    says(
        &["question.effect.no_worse.margin_percent"],
        "fall that would be too much",
        "The survey is to show that the real fall is smaller than this one. The larger it is, the easier the claim and the fewer animals it takes.",
    )
    .formula("claimed when the slope is surely above ln(1 − margin/100)/years"),
    says(
        &["question.effect.no_worse.over_years"],
        "years of the fall that would be too much",
        "The years over which the fall that would be too much is counted. The more years for the same fall, the gentler it is each year and the harder the claim.",
    ),
    says(
        &["question.effect.no_worse.change_percent"],
        "fall believed in",
        "The fall that is believed to happen really; below 0 a rise. The nearer it is to the fall that would be too much, the harder the claim is to make.",
    ),
    says(
        &["question.effect.difference.difference_percent"],
        "difference to be found",
        "By how many per cent treated sites catch more than the others; below 0 fewer. The further from 0, the fewer sites are needed.",
    )
    .formula("effect = ln(1 + difference/100)"),
    says(
        &["question.effect.before_after.change_percent"],
        "change by the treatment",
        "By how many per cent the treatment changes the catch, against what happens at control sites; below 0 a fall. The further from 0, the smaller the survey can be.",
    )
    .formula("effect = ln(after/before) of treated sites − ln(after/before) of control sites")
    .source("Underwood 1994, Ecol. Appl. 4:3"),
    says(
        &["question.effect.occupancy.to_share"],
        "share occupied at the end",
        "Share of sites where the target lives when the change is over. The further it is from the share at the beginning, the fewer sites are needed.",
    )
    .formula("log odds = ln(share/(1 − share)); a trend is a straight line of them"),
    says(
        &["question.effect.occupancy.over_years"],
        "years of the change in occupied sites",
        "The years between the share of occupied sites at the beginning and that at the end. The more years for the same change, the smaller its step each year.",
    ),
    says(
        &["question.effect.range_shift.distance_per_decade"],
        "move of the range",
        "How far the range moves in ten years: above 0 up or north, below 0 down or south. The further it moves, the fewer sites or years are needed to see it.",
    ),
    says(
        &["question.effect.absence.catch_per_trap_week"],
        "density to exclude",
        "The mean catch of a trap-week, at the season's peak, that the survey shall rule out when it finds none. The smaller it is, the more trap-weeks are needed.",
    )
    .formula("trap-weeks = −ln(1 − C)/(k ln(1 + m/k)); m mean catch, C confidence")
    .source("Green & Young 1993, Ecol. Appl. 3:351"),
    says(
        &["question.effect.baseline.within_percent"],
        "wanted precision",
        "How closely the mean catch shall be known: half the width of its interval, in per cent of the mean. The larger it is, the smaller a survey will do.",
    )
    .formula("half-width/mean = sinh(t s/(mean √n)); n sites, s their SD, t Student's"),
    says(
        &["question.effect.inventory.wanted_share"],
        "share to be recorded",
        "The share of the community that the list of species shall hold. The larger it is, the more trap-weeks it takes; the last, rare species cost most.",
    ),
    says(
        &["question.significance"],
        "significance level",
        "The share of surveys that may raise a false alarm where nothing changes. The larger it is, the smaller a survey will do, and the less a finding is worth.",
    )
    .formula("chance(statistic > critical value, where nothing changes) = level"),
    says(
        &["question.wanted_power"],
        "wanted power",
        "The chance wanted of finding the change when it is there. The larger it is, the more traps, animals or years are needed.",
    )
    .formula("power = surveys that find the change/all surveys in which it is there"),
    says(
        &["question.several.answered_share"],
        "species that must be answered",
        "The share of the listed species that must be answered for the survey to have answered. The larger it is, the larger the survey must be.",
    )
    .formula("species needed = share × species on the list, rounded up"),
];
