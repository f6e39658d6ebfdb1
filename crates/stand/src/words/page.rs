//! The page's frame.

/// The name of the tool.
pub const NAME: &str = "Leastcatch";
/// What it is for, under the name.
pub const TAGLINE: &str = "the smallest catch that answers the question";
/// The link for those who go by keyboard.
pub const SKIP: &str = "Skip to the answer";
/// What stands at the foot of every page.
pub const CAUTIONS: [&str; 3] = [
    "A planning aid only: local law, the ethics body, site safety rules and qualified or licensed people decide. Vertebrates and protected animals: ask the regulator before setting a trap.",
    "Trapping needs the landowner's consent and whatever permits hold locally; preserving fluids can be toxic or flammable: follow their safety data sheets and leave nothing open off season.",
    "Everything is computed in this browser; nothing is sent anywhere.",
];
/// The question, on paper.
pub const QUESTION: &str = "The question";
/// The premises, on paper.
pub const PREMISES: &str = "What it rests on";
/// Beside a premise that is a guess or common practice.
pub const UNSOURCED: &str = "unsourced";

/// When not even the demo can be read.
pub fn unreadable_demo(fault: &str) -> String {
    format!("The demo could not be read: {fault}")
}
