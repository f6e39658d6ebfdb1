//! Inventories in plain sentences.

use crate::number::{percent, percent_fine};
use survey::scenario::{Inventory, Scenario};
use survey::summary::{Answer, Share};

/// What a survey answers by, and what its own estimate is worth.
pub(super) fn reached_and_claimed(asked: &Inventory, answer: &Answer) -> String {
    let own = if answer.bias.is_finite() {
        let way = if answer.bias < 0.0 { "below" } else { "above" };
        format!(
            " On average a survey's own estimate is {} points {way} the share it has reached.",
            percent_fine(answer.bias.abs()).trim_end_matches([' ', '%'])
        )
    } else {
        String::new()
    };
    format!(
        "A survey answers when it has truly recorded {} or more of the community believed in: the pilot's, completed for species not seen, its shares the same at all sites and weeks. A false claim is a survey whose own estimate reaches that share although it has not.{own} Catches that come in clumps make both too hopeful: samples with each species (incidences) are proof against that.",
        percent_fine(asked.wanted_share)
    )
}

/// A warning when surely more surveys than accepted claim the share falsely.
pub(super) fn false_claims(scenario: &Scenario, claims: &Share) -> Option<String> {
    (claims.replicates > 0 && claims.low > scenario.question.significance).then(|| {
        format!(
            "Do not rest on such a survey's own estimate: {} claim the share without having reached it where {} are accepted. More trapping, or a lower share, makes fewer of them.",
            percent(claims.estimate),
            percent(scenario.question.significance)
        )
    })
}
