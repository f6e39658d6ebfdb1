//! Words on numbers that are typed.

use figures::locale::pointed;

/// A number that could be two: what to type instead.
pub fn unclear(typed: &str) -> String {
    let whole = typed.replace([',', '.'], "");
    let parted = pointed(&typed.replace(',', "."));
    format!("“{typed}” could be {whole} or {parted}: type one of these")
}

#[cfg(test)]
mod tests {
    use super::*;
    use figures::locale::{Marks, in_english, set, typed};

    #[test]
    fn what_is_advised_can_be_read() {
        assert_eq!(
            unclear("1,234"),
            "“1,234” could be 1234 or 1.234: type one of these"
        );
        in_english(|| {
            set(Marks::new(',', Some('.'), 1).expect("sound"));
            assert_eq!(
                unclear("1.234"),
                "“1.234” could be 1234 or 1,234: type one of these"
            );
            assert_eq!(typed("1,234").number(), Some(1.234));
        });
    }
}
