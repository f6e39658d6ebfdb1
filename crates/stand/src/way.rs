//! The three ways in.

/// What a visitor comes for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To size a survey for a proposal.
    Size,
    /// To explore what trades off against what.
    Explore,
    /// To show people why fewer traps cannot answer.
    Show,
}

impl Way {
    /// All ways in, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Size, Self::Explore, Self::Show];

    /// Its key in the page and in what the browser keeps.
    pub fn key(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Explore => "explore",
            Self::Show => "show",
        }
    }

    /// The parts that are open when this way is taken.
    pub fn begins_with(self) -> &'static [&'static str] {
        match self {
            Self::Size => &["plan", "curve", "toll", "least"],
            Self::Explore => &[
                "plan", "premises", "curve", "limiting", "map", "futures", "season",
            ],
            Self::Show => &["plan", "curve", "futures", "toll"],
        }
    }
}
