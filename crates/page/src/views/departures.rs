//! What else the world may do: departures from the plain model, folded away until wanted.

use super::binding;
use super::field::control;
use crate::state::Model;
use crate::words::departures as words;
use leptos::prelude::*;

/// Each departure's field with what it means.
const FIELDS: [(&str, &str); 10] = [
    (
        "premises.departures.year_autocorrelation",
        words::YEAR_AUTOCORRELATION,
    ),
    ("premises.departures.site_slope_sd", words::SITE_SLOPES),
    (
        "premises.departures.correlation_length_km",
        words::CORRELATION_LENGTH,
    ),
    ("premises.departures.region_km2", words::REGION),
    ("premises.departures.shared_week_sd", words::SHARED_WEEKS),
    (
        "premises.departures.detection_drift_percent",
        words::DETECTION_DRIFT,
    ),
    (
        "premises.departures.loss_follows_catch",
        words::LOSS_FOLLOWS_CATCH,
    ),
    ("premises.departures.season_shift_sd", words::SEASON_SHIFT),
    ("premises.departures.season_trend", words::SEASON_TREND),
    (
        "premises.departures.loss_clustering",
        words::LOSS_CLUSTERING,
    ),
];

/// The fold-out.
pub fn view(model: Model) -> impl IntoView {
    let stated = Memo::new(move |_| model.scenario.with(|s| paper::departures::stated(s).len()));
    let how_many = move || words::stated(stated.get());
    view! {
        <details id="departures">
            <summary>{words::TITLE} {how_many}</summary>
            <p class="aside">{words::ABOUT}</p>
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
