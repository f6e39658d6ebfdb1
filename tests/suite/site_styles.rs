//! The page forbids inline styles, so the figures' style sheet stands in a file of its own; it must be the crate's.

#[test]
fn figures_css_is_the_crates_style_sheet() {
    let file = leastcatch_tests::project("www/figures.css");
    let want = figures::stylesheet();
    if std::env::var_os("LEASTCATCH_WRITE").is_some() {
        std::fs::write(&file, &want).unwrap();
    }
    let got = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(
        got == want,
        "www/figures.css is stale: run LEASTCATCH_WRITE=1 cargo test -p leastcatch-tests --test site_styles"
    );
}
