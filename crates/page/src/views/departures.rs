//! What else the world may do: departures from the plain model, folded away until wanted.

use super::binding;
use super::field::control;
use crate::state::Model;
use leptos::prelude::*;

/// Each departure's field with what it means.
const FIELDS: [(&str, &str); 10] = [
    (
        "premises.departures.year_autocorrelation",
        "Above 0 a good year tends to follow a good one, below 0 a bad one; 0: every year by itself.",
    ),
    (
        "premises.departures.site_slope_sd",
        "Sites rise and fall at their own pace around the common change (0.02 is common practice). More sites even it out, more traps and weeks do not.",
    ),
    (
        "premises.departures.correlation_length_km",
        "Neighbours have good and bad years together: at this distance their correlation is 37 %; 0: every site by itself.",
    ),
    (
        "premises.departures.region_km2",
        "Only with such a distance: sites are spread evenly over this area, so more sites stand closer; along a gradient, on a line as long as its side.",
    ),
    (
        "premises.departures.shared_week_sd",
        "A warm or wet week is one for all traps at all sites. More weeks even it out, more traps and sites do not.",
    ),
    (
        "premises.departures.detection_drift_percent",
        "Traps that age, or a new hand, catch more or fewer of the same animals: -2 looks like a fall of 2 % a year. It changes the kills too.",
    ),
    (
        "premises.departures.loss_follows_catch",
        "Full traps spoil or are dug up more often: at 1 the odds of loss grow with the catch, at 2 with its square; 0: lost at random. At the typical catch of the season's peak the share lost is the one above.",
    ),
    (
        "premises.departures.season_shift_sd",
        "Early and late springs move the whole season, of target and by-catch, under weeks that stay: good and bad years that are none.",
    ),
    (
        "premises.departures.season_trend",
        "A season that comes earlier decade by decade under weeks that stay looks like a change of the animals; below 0: later. 2.3 is the mean of many spring events (Parmesan & Yohe 2003, Nature 421:37; cited from memory).",
    ),
    (
        "premises.departures.loss_clustering",
        "Cattle, floods and people take whole sites: the correlation of losses within a site's year, 0: each trap-week by itself, near 1: all of a site's year or none. The share lost is the one above.",
    ),
];

/// The fold-out.
pub fn view(model: Model) -> impl IntoView {
    let stated = Memo::new(move |_| model.scenario.with(|s| paper::departures::stated(s).len()));
    let how_many = move || match stated.get() {
        0 => String::new(),
        n => format!(" ({n} stated)"),
    };
    view! {
        <details id="departures">
            <summary>"What else the world may do" {how_many}</summary>
            <p class="aside">"All 0 is the plain model. What is stated here changes the world, not the analysis: see what power and false alarms it then has."</p>
            {FIELDS
                .into_iter()
                .filter_map(|(path, hint)| binding::of(path).map(|b| (b, hint)))
                .map(|(b, hint)| view! {
                    {control(model, b)}
                    <p class="aside">{hint}</p>
                })
                .collect_view()}
        </details>
    }
}
