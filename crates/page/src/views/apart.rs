//! Parts that are not open at first, which come in a [file of their own](crate::apart).

use super::{
    bycatch, cost, futures, gentle, heat, ignoring, inventory, least, limiting, limits, looks,
    method, mistakes, others, premises, question, revisit, season, several, show, stop_lines,
    traps,
};
use crate::state::{Apart, Model};
use crate::words::apart as words;
use leptos::prelude::*;

/// The parts of that file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Premises of the target.
    Premises,
    /// By-catch.
    Bycatch,
    /// Kinds of trap.
    Traps,
    /// Hours and money for each piece of work.
    Rates,
    /// Other species.
    Others,
    /// What limits the plan.
    Limiting,
    /// Years against sites.
    Map,
    /// Twenty surveys.
    Futures,
    /// Several species.
    Several,
    /// The inventory so far.
    Inventory,
    /// Hours and money of the plan.
    Cost,
    /// The season.
    Season,
    /// Gentle catching.
    Gentle,
    /// Which sites in which years.
    Revisit,
    /// Looks before the end.
    Looks,
    /// Stop lines.
    StopLines,
    /// What ignoring costs.
    Ignoring,
    /// Mistakes to play with.
    Mistakes,
    /// How it is worked out.
    Method,
    /// The middle of the question's sentence.
    Question,
    /// What a search for the least plan has found.
    LeastFound,
    /// The least plan's frontier.
    Frontier,
    /// How far the search may go.
    Limits,
    /// The show for an audience.
    Show,
}

/// Draws a part.
pub fn draw(part: Part, model: Model) -> AnyView {
    match part {
        Part::Premises => premises::view(model).into_any(),
        Part::Bycatch => bycatch::view(model).into_any(),
        Part::Traps => traps::view(model).into_any(),
        Part::Rates => cost::rates(model).into_any(),
        Part::Others => others::view(model).into_any(),
        Part::Limiting => limiting::view(model).into_any(),
        Part::Map => heat::view(model).into_any(),
        Part::Futures => futures::view(model).into_any(),
        Part::Several => several::view(model).into_any(),
        Part::Inventory => inventory::view(model).into_any(),
        Part::Cost => cost::view(model).into_any(),
        Part::Season => season::view(model).into_any(),
        Part::Gentle => gentle::view(model).into_any(),
        Part::Revisit => revisit::view(model).into_any(),
        Part::Looks => looks::view(model).into_any(),
        Part::StopLines => stop_lines::view(model).into_any(),
        Part::Ignoring => ignoring::view(model).into_any(),
        Part::Mistakes => mistakes::view(model).into_any(),
        Part::Method => method::view().into_any(),
        Part::Question => question::middle(model).into_any(),
        Part::LeastFound => least::found(model).into_any(),
        Part::Frontier => least::frontier(model).into_any(),
        Part::Limits => limits::inside(model).into_any(),
        Part::Show => show::inside(model).into_any(),
    }
}

/// The part, or until its file is here, that it is on its way; who wants it asks for the file.
pub fn view(model: Model, part: Part) -> AnyView {
    match model.apart.get() {
        Apart::Here(rest) => (rest.draw)(part, model),
        Apart::Failed => view! {
            <p class="warning" role="alert">{words::FAILED} " "
                <button type="button" on:click=move |_| model.fetch_apart()>{words::AGAIN}</button>
            </p>
        }
        .into_any(),
        Apart::Unasked | Apart::Coming => {
            view! { <p class="aside" role="status">{words::COMING}</p> }.into_any()
        }
    }
}
