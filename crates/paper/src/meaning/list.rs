//! What is told of a list of species.

use super::{Entry, says};

const HOLM: &str = "Holm 1979, Scand. J. Stat. 6:65";

pub(super) const OF: &[Entry] = &[
    says(
        &["answered"],
        "surveys that answer for the list",
        "How many of 100 surveys find the change in as many species as must be answered, when all of them change. The longer the list, the harder that is.",
    )
    .formula("surveys with at least the needed number of species found/all surveys"),
    says(
        &["answered_share", "needed"],
        "species needed",
        "In how many species the change must be found for the survey to have answered. The more, the larger the survey must be.",
    )
    .formula("share that must be answered × species, rounded up to a whole one"),
    says(
        &["expected_found"],
        "species found on average",
        "In how many species of the list the change is found, on average over surveys, when all change. The nearer to the whole list, the better.",
    ),
    says(
        &["expected_false_alarms"],
        "false alarms over the list",
        "How many species on average seem to change although none does. Without control it grows with the length of the list.",
    )
    .formula("without control: number of species × accepted level"),
    says(
        &["any_false_alarm"],
        "surveys with any false alarm",
        "How many of 100 surveys raise at least one false alarm over the list, when no species changes. Control keeps it at the accepted level.",
    )
    .formula("without control, of independent species: 1 − (1 − level)^species"),
    says(
        &["power_controlled"],
        "power under control",
        "How surely one species' change is found when false alarms over the whole list are held down. The longer the list, the lower it is.",
    ),
    says(
        &["bonferroni"],
        "Bonferroni's control",
        "Each species is tested at the accepted level over the number of species. Even one false alarm is rare; the longer the list, the more is missed.",
    )
    .formula("found when p ≤ level/n; n species")
    .source("Bonferroni, as in Holm 1979, Scand. J. Stat. 6:65"),
    says(
        &["holm"],
        "Holm's control",
        "Holds the chance of even one false alarm as Bonferroni's does, and finds more: each species found makes it easier for the next.",
    )
    .formula("the i-th smallest p is found while p ≤ level/(n − i + 1); n species")
    .source(HOLM),
    says(
        &["benjamini_hochberg"],
        "Benjamini and Hochberg's control",
        "Of all species said to change, no more than the accepted share do not, on average. It finds more than the others and raises single false alarms more often.",
    )
    .formula("the i smallest p are found where the i-th is ≤ i level/n; the largest such i, n species")
    .source("Benjamini & Hochberg 1995, J. R. Stat. Soc. B 57:289"),
    says(
        &["strictest_level", "smallest_p"],
        "strictest level of the list",
        "The level that the clearest species of the list must reach. The longer the list, the smaller it is, and the more surveys must be simulated to see so far.",
    )
    .formula("level/n, to be reached by ranks not below 1/(surveys without a change + 1); n species"),
];
