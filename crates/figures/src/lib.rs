//! Pictures as SVG strings with title, description and table.
