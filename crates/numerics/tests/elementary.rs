//! The functions over slices against values to 25 digits by mpmath (`tests/reference/scripts/elementary.py`), within
//! the bounds that their documentation states.

use numerics::maths::slices;

fn check(name: &str, f: fn(&mut [f64]), bound: impl Fn(f64) -> f64) {
    let rows = include_str!("elementary.csv").lines().skip(1);
    let mut n = 0;
    for row in rows {
        let mut cells = row.split(',');
        if cells.next() != Some(name) {
            continue;
        }
        let mut number = || cells.next().unwrap().parse::<f64>().unwrap();
        let (x, want) = (number(), number());
        let mut got = [x];
        f(&mut got);
        let off = (got[0] - want).abs();
        assert!(
            off <= bound(want),
            "{name}({x}): {} {want}, {off:e}",
            got[0]
        );
        n += 1;
    }
    assert!(n > 100, "{n} values of {name}");
}

#[test]
fn within_their_stated_errors() {
    let relative = |want: f64| 4e-16 * want.abs();
    check("exp", slices::exp, relative);
    check("ln", slices::ln, relative);
    check("ln_1p", slices::ln_1p, relative);
    check("ln_gamma", slices::ln_gamma, |want| {
        1e-14 + 6e-16 * want.abs()
    });
}
