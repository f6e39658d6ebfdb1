//! What planned looks come to.

use super::{Entry, says};

const BOOK: &str =
    "Jennison & Turnbull 2000, Group Sequential Methods with Applications to Clinical Trials";
const SPENDING: &str = "Lan & DeMets 1983, Biometrika 70:659";

pub(super) const OF: &[Entry] = &[
    says(
        &["look_information", "looks.information"],
        "looks' information",
        "How much of all that the survey will tell is known by a look. The smaller it is, the less such a look can end the survey.",
    )
    .formula("t = variance of the estimate after all years/variance after the look's years")
    .source(BOOK),
    says(
        &["line", "line_z", "line_t"],
        "line of a look",
        "What the result must exceed at a look to end the survey with the change found. The higher early lines are, the less is asked at the last look.",
    )
    .source(BOOK),
    says(
        &["pocock"],
        "Pocock's line",
        "The same line at every look. Surveys end early rather easily, for which the last look asks for much more than a survey without looks.",
    )
    .formula("|Z| ≥ c at every look; c 2.18 for two looks at 5 %")
    .source("Pocock 1977, Biometrika 64:191"),
    says(
        &["obrien_fleming"],
        "O'Brien and Fleming's line",
        "High at first and falling look by look. Surveys hardly ever end early, and the last look asks for little more than a survey without looks.",
    )
    .formula("|Z| ≥ c/√t; t share of the information, c 1.98 for two looks at 5 %")
    .source("O'Brien & Fleming 1979, Biometrics 35:549"),
    says(
        &["spend_obrien_fleming", "spend_obrien_fleming_whole"],
        "line that spends like O'Brien and Fleming",
        "Spends hardly any of the accepted false alarms at first and most at the end. Looks may be moved to other years without raising more.",
    )
    .formula("spent by t: 2 − 2 Φ(z(1 − a/2)/√t), of each direction; a its level, t information")
    .source(SPENDING),
    says(
        &["spend_pocock"],
        "line that spends like Pocock",
        "Spends the accepted false alarms about evenly as the survey goes on. More surveys end early, and the last look asks for more.",
    )
    .formula("spent by t: a ln(1 + (e − 1) t); a the level, t share of the information")
    .source(SPENDING),
    says(
        &["spent_alpha", "alpha_spent"],
        "false alarms spent",
        "How much of the accepted false alarms has been used up by a look. The more is spent early, the less is left for the last look.",
    )
    .formula("a(t), rising from 0 to the level as the information t goes from 0 to 1")
    .source(SPENDING),
    says(
        &["nominal", "nominal_p"],
        "nominal p",
        "How often luck alone would pass the line at this look, if it were the only one. The smaller it is, the more the look asks for.",
    )
    .formula("2 (1 − Φ(line)) where a change in either direction counts"),
    says(
        &["futility", "futility_z", "futility_t", "futile"],
        "futility",
        "Below this line a survey is given up, since it would hardly find the change any more. The higher it lies, the more animals are spared, and the more power is lost.",
    )
    .source(BOOK),
    says(
        &["conditional_power"],
        "chance still to find the change",
        "How surely the change would be found in the years to come, given what is known by now and if it is as stated. The smaller, the less point in going on.",
    )
    .source(BOOK),
    says(
        &["expected_years"],
        "expected years",
        "How many years such a survey lasts on average when it may end at a look. The fewer, the more animals the looks spare.",
    )
    .formula("sum over looks of years × share of surveys that end there"),
    says(
        &["with_looks"],
        "with looks",
        "What the survey kills or costs on average when it may end at a look. The further below the plan without looks, the more they spare.",
    )
    .formula("sum over ends of what is spent by then × share of surveys that end there"),
    says(
        &["every_year", "at_looks", "naive"],
        "false alarms by looking again and again",
        "How many surveys without a change find one when one looks year by year and stops at the first plain finding. The more looks, the more false alarms.",
    )
    .formula("looks at |Z| > 1.96: one 5 %, two 8.3 %, five 14.2 %, ten 19.3 %")
    .source("Armitage, McPherson & Rowe 1969, J. R. Stat. Soc. A 132:235"),
    says(
        &["failed_at_look"],
        "failed fits at a look",
        "Analyses at this look that gave no answer; the survey then goes on. Many of them mean that the look comes too early.",
    ),
];
