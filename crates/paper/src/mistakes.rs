//! Mistakes to play with: their names, what to do instead, sentences and pictures.

mod figure;
mod sentences;
#[cfg(test)]
mod tests;

pub use figure::figure;
pub use sentences::{first, sentences};

use crate::number::plain;
use survey::mistakes::{Knob, Mistake, Origin};

/// What all of them have in common.
pub const WHAT: &str = "Each number is computed from the plan and its premises, or from what you move; nothing of it changes the plan. Logs of yearly catches are taken as normal here, so that the tests have exact laws.";

/// A mistake by name.
pub fn title(mistake: Mistake) -> &'static str {
    match mistake {
        Mistake::TrapsAsSites => "Traps counted as sites",
        Mistake::YearsIgnored => "Good and bad years ignored",
        Mistake::BaselineChosen => "The first year chosen",
        Mistake::BestSites => "The best sites chosen",
        Mistake::ZerosDropped => "Empty visits left out",
        Mistake::MovingSeason => "Fixed weeks, moving season",
        Mistake::NoneFound => "“No decline found”",
        Mistake::OnlySignificant => "Only significant results told",
        Mistake::RepeatedLooks => "Looking again and again",
        Mistake::ManySpecies => "Many species tested",
    }
}

/// What goes wrong, in a sentence or two.
pub fn why(mistake: Mistake) -> &'static str {
    match mistake {
        Mistake::TrapsAsSites => {
            "Traps at one site catch from the same animals: they resemble each other. An analysis that takes each for a site of its own believes in more than there is."
        }
        Mistake::YearsIgnored => {
            "A good year is good at all sites. An analysis that does not know of years takes it for many findings that agree."
        }
        Mistake::BaselineChosen => {
            "The population here is stable, and its index goes up and down by chance. Where one begins decides what one sees."
        }
        Mistake::BestSites => {
            "A site catches most in one year because it is good, and because it was lucky. The luck does not come back."
        }
        Mistake::ZerosDropped => {
            "“Checked, none” is a count; “not checked” is a gap. If visits that caught none are deleted, what is left always caught something."
        }
        Mistake::MovingSeason => {
            "Traps open in the same weeks every year, while the season comes earlier or later: they catch another part of it each year."
        }
        Mistake::NoneFound => {
            "A survey that finds no decline says what it cannot exclude. A small one excludes little."
        }
        Mistake::OnlySignificant => {
            "If only significant changes are told, only those are heard of that chance made large enough."
        }
        Mistake::RepeatedLooks => {
            "Each look at the data with the usual test is another chance for a false alarm, though nothing changes."
        }
        Mistake::ManySpecies => {
            "Every species tested is another chance for a false alarm, though none of them changes."
        }
    }
}

/// What to do instead.
pub fn instead(mistake: Mistake) -> &'static str {
    match mistake {
        Mistake::TrapsAsSites => {
            "Instead: analyse sites (their means, or a model with sites in it), and add sites before traps."
        }
        Mistake::YearsIgnored => {
            "Instead: an analysis with years as a random effect, or of yearly means. More sites do not help; more years do."
        }
        Mistake::BaselineChosen => {
            "Instead: say before the first catch which year is the first, and use all years."
        }
        Mistake::BestSites => {
            "Instead: draw sites at random, or choose them by another year's catch and do not compare with that year."
        }
        Mistake::ZerosDropped => {
            "Instead: write a 0 for every visit that caught none, and leave blank only what was not checked."
        }
        Mistake::MovingSeason => {
            "Instead: weeks on both sides of the peak, or weeks that follow the season by its own signs."
        }
        Mistake::NoneFound => {
            "Instead: tell the whole interval, and state beforehand the margin that would be “no worse”."
        }
        Mistake::OnlySignificant => {
            "Instead: tell every result, with its interval, and plan for enough power."
        }
        Mistake::RepeatedLooks => {
            "Instead: plan the looks and their lines beforehand (planned looks), or look once."
        }
        Mistake::ManySpecies => {
            "Instead: name the one target first, and control the false alarms of the others as a list."
        }
    }
}

/// Where the closed form is published.
pub fn source(mistake: Mistake) -> &'static str {
    match mistake {
        Mistake::TrapsAsSites => {
            "Kish 1965, Survey Sampling (design effect); Hurlbert 1984, Ecol. Monogr. 54:187; Scariano & Davenport 1987, Am. Stat. 41:123"
        }
        Mistake::YearsIgnored => "Larsen et al. 2001, BioScience 51:1069",
        Mistake::BaselineChosen => "Sheppard 1899, Phil. Trans. R. Soc. A 192:101 (signs)",
        Mistake::BestSites => {
            "Galton 1886, J. Anthropol. Inst. 15:246; derived with the truncated normal law"
        }
        Mistake::ZerosDropped => "Sampford 1955, Biometrika 42:58",
        Mistake::MovingSeason => "derived from the season's bell; see the moving season",
        Mistake::NoneFound => "noncentral t; variance by Larsen et al. 2001, BioScience 51:1069",
        Mistake::OnlySignificant => "Gelman & Carlin 2014, Perspect. Psychol. Sci. 9:641",
        Mistake::RepeatedLooks => "Armitage, McPherson & Rowe 1969, J. R. Stat. Soc. A 132:235",
        Mistake::ManySpecies => "Dunn 1961, J. Am. Stat. Assoc. 56:52",
    }
}

/// A knob in a line: its name, value, unit and where it began.
pub fn knob(knob: &Knob) -> String {
    let unit = if knob.unit.is_empty() {
        String::new()
    } else {
        format!(" {}", knob.unit)
    };
    format!(
        "{}: {}{unit} ({})",
        knob.label,
        plain(knob.value),
        origin(knob.from)
    )
}

/// Where a knob's first value comes from.
pub fn origin(from: Origin) -> &'static str {
    match from {
        Origin::Scenario => "from the scenario",
        Origin::Example => "an example",
    }
}
