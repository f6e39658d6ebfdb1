//! How a survey decides whether it found something.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["calibrated"],
        "calibrated test",
        "The result must exceed what only the accepted share of simulated surveys without a change exceeds. It raises just the accepted false alarms, if the premises hold.",
    )
    .formula("critical value = order statistic of |estimate/standard error| without a change")
    .source("David & Nagaraja 2003, Order Statistics, 3rd ed., section 2.3"),
    says(
        &["t"],
        "t test",
        "Holds the estimate against its standard error, asking for more where years are few. It hardly ever raises too many false alarms, and finds less than it could.",
    )
    .formula("|estimate/standard error| > t; Student's, with T − 2 degrees of freedom for T years")
    .source("Link & Hatfield 1990, Ecology 71:1217"),
    says(
        &["satterthwaite"],
        "t test by Satterthwaite",
        "A t test whose degrees of freedom are estimated from each survey. It raises too many false alarms where years seem to be alike.",
    )
    .formula("degrees of freedom = 2 v²/var(v); v the estimate's variance")
    .source("Satterthwaite 1946, Biometrics Bulletin 2:110"),
    says(
        &["z"],
        "z test",
        "Acts as if the uncertainty were known exactly, as is common practice. With few years it raises two to four times the accepted false alarms.",
    )
    .formula("|estimate/standard error| > z; z 1.96 at 5 %, two-sided"),
    says(
        &["likelihood_ratio"],
        "likelihood ratio",
        "Asks how much better the catches are explained with a change than without. It raises too many false alarms where years are few.",
    )
    .formula("2 (log likelihood with − without the change) > χ² quantile, 1 degree of freedom"),
    says(
        &["annual_index"],
        "annual index",
        "A straight line through yearly means of the log catch, sites' own levels taken off. It raises no more false alarms than accepted, and finds a little less.",
    )
    .formula("slope/standard error of the yearly means against t with T − 2 degrees of freedom")
    .source("Gerrodette 1987, Ecology 68:1364; Link & Hatfield 1990, Ecology 71:1217"),
    says(
        &["critical", "critical_value"],
        "critical value",
        "What the result must exceed to count as found. The larger it is, the fewer false alarms are raised and the fewer changes are found.",
    ),
    says(
        &["critical_low", "critical_high"],
        "interval of the critical value",
        "How well the calibrated critical value is known. The more surveys are simulated without a change, the narrower; the power's interval holds it too.",
    )
    .formula("the order statistic two standard errors of its place further down and up")
    .source("David & Nagaraja 2003, Order Statistics, 3rd ed., section 2.3"),
    says(
        &["nulls_needed"],
        "surveys needed for the calibrated test",
        "How many surveys without a change must be simulated before a critical value can be taken from them. The smaller the accepted level, the more it takes.",
    )
    .formula("at least 10/level"),
    says(
        &["p_value"],
        "p-value",
        "How often luck alone would make a result at least so far out, were there no change. The smaller it is, the harder it is to put it down to luck.",
    )
    .formula("by rank: (1 + number of null surveys as far out)/(n + 1); n null surveys")
    .source("Davison & Hinkley 1997, Bootstrap Methods and their Application, section 4.2"),
    says(
        &["restricted", "restricted_likelihood"],
        "restricted likelihood",
        "A way to estimate how much years and sites differ that does not take them for more alike than they are. It errs on the side of fewer false alarms.",
    )
    .source("Searle, Casella & McCulloch 1992, Variance Components"),
    says(
        &["maximum", "maximum_likelihood"],
        "maximum likelihood",
        "Estimates all numbers at once as those that explain the catches best. With few years it takes years for more alike than they are, and is too sure.",
    ),
    says(
        &["profile", "profile_coverage", "profile_interval"],
        "interval by profile likelihood",
        "All moves that explain the catches almost as well as the best one; this tells how often they hold the true move. It may be longer on one side.",
    )
    .formula("moves with 2 (largest − own log likelihood) ≤ χ² quantile")
    .source("Venzon & Moolgavkar 1988, Appl. Stat. 37:87"),
    says(
        &["delta_method"],
        "delta method",
        "The error of a move from the errors of the two numbers it is the ratio of. Its interval is too short where the curve itself is poorly known.",
    )
    .formula("move of an optimum a year = −b_xt/(2 b_xx); of an edge −c/b; b, c fixed effects")
    .source("ter Braak & Looman 1986, Vegetatio 65:3 (for the optimum)"),
    says(
        &["power_at_level"],
        "power at the accepted level",
        "The power when the critical value is such that just the accepted false alarms are raised. It makes analyses comparable of which one cries wolf.",
    ),
    says(
        &["power_lost"],
        "power lost by ignoring it",
        "How much power is lost when the analysis is not told of what the world holds. The larger it is, the more it pays to tell it; below 0 telling costs more than it brings.",
    )
    .formula("power of the analysis that knows − power of the one that does not, at one level"),
];
