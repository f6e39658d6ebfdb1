//! Reading values off a picture, and saving it.

/// Name of a picture that can be read by key.
pub const FRAME: &str = "picture: arrow keys read its values";
/// Name of the button that saves a picture as pixels.
pub const PNG: &str = "Save picture (PNG)";
/// When that cannot be done.
pub const NO_PNG: &str =
    "this browser could not turn the picture into pixels: save it as SVG instead";

/// Name of the button that saves a picture.
pub const SVG: &str = "Save picture (SVG)";
/// Name of the button that saves a table.
pub const CSV: &str = "Save table (CSV)";
