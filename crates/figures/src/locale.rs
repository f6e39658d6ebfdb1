//! The marks that a reader's country writes in numbers: one place for all of them.
//!
//! Whatever people read is first written the English way (digits with a full stop before decimals) and then goes
//! through here. What machines read (CSV, files, coordinates of a picture) does not.
//!
//! The marks belong to the thread: the page sets them once, when it starts; the command line and the workers never do
//! and stay English. Thousands are always apart by three digits; the Indian way of lakh and crore (`12,34,567`) is left
//! out, and its readers get the thousands of everybody else.

mod retold;
mod typed;

pub use retold::retold;
pub use typed::{Typed, typed};

use std::cell::Cell;

/// How numbers are marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Marks {
    decimal: char,
    thousands: Option<char>,
    least_grouped: usize,
}

impl Marks {
    /// `1,234.5`
    pub const ENGLISH: Self = Self {
        decimal: '.',
        thousands: Some(','),
        least_grouped: 1,
    };

    /// Marks for decimals and between thousands (none where these stand without). `least_grouped` is how many digits
    /// must stand before the first mark between thousands: 1 in most countries; 2 in Spain and Poland, where 1234 has
    /// no mark and 12 345 has one.
    ///
    /// None where a number so marked could not be read again: marks that are alike, or are digits, letters or signs.
    pub fn new(decimal: char, thousands: Option<char>, least_grouped: usize) -> Option<Self> {
        let fits = |mark: char| {
            !(mark.is_alphanumeric() || mark.is_control() || "+-\u{2212}%".contains(mark))
        };
        let sound = fits(decimal)
            && !decimal.is_whitespace()
            && thousands.is_none_or(|mark| fits(mark) && mark != decimal)
            && (1..=3).contains(&least_grouped);
        sound.then_some(Self {
            decimal,
            thousands,
            least_grouped,
        })
    }

    /// The mark before decimals.
    pub fn decimal(self) -> char {
        self.decimal
    }

    /// The mark between thousands, where there is one.
    pub fn thousands(self) -> Option<char> {
        self.thousands
    }
}

thread_local! {
    static MARKS: Cell<Marks> = const { Cell::new(Marks::ENGLISH) };
}

/// The marks of this thread's reader.
pub fn marks() -> Marks {
    MARKS.get()
}

/// Sets the marks of this thread's reader.
pub fn set(marks: Marks) {
    MARKS.set(marks);
}

/// What `make` makes with English marks, whoever reads: for files that people save.
pub fn in_english<T>(make: impl FnOnce() -> T) -> T {
    /// Puts the reader's marks back, also when making fails.
    struct Back(Marks);
    impl Drop for Back {
        fn drop(&mut self) {
            set(self.0);
        }
    }
    let _back = Back(MARKS.replace(Marks::ENGLISH));
    make()
}

/// An English-written number in the reader's marks, thousands apart: `-1234.5` is `-1.234,5` in German.
///
/// What stands before its digits (a sign) and after them (an exponent, a unit) stays.
pub fn written(plain: &str) -> String {
    marked(plain, marks(), true)
}

/// The same without marks between thousands: for what English writes without them too.
pub fn pointed(plain: &str) -> String {
    marked(plain, marks(), false)
}

fn marked(plain: &str, marks: Marks, apart: bool) -> String {
    let is_digit = |c: char| c.is_ascii_digit();
    let Some(start) = plain.find(is_digit) else {
        return plain.to_string();
    };
    let (before, rest) = plain.split_at(start);
    let end = rest.find(|c| !is_digit(c)).unwrap_or(rest.len());
    let (whole, after) = rest.split_at(end);
    let mut out = before.to_string();
    let mark = marks
        .thousands
        .filter(|_| apart && whole.len() >= 3 + marks.least_grouped);
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.extend(mark);
        }
        out.push(digit);
    }
    match after.strip_prefix('.') {
        Some(decimals) => {
            out.push(marks.decimal);
            out.push_str(decimals);
        }
        None => out.push_str(after),
    }
    out
}

/// Marks of some countries, for tests.
#[cfg(test)]
mod countries {
    use super::{Marks, set};

    /// `1.234,5`
    pub fn german() -> Marks {
        Marks::new(',', Some('.'), 1).expect("sound")
    }

    /// `1 234,5` with a narrow space that does not break.
    pub fn french() -> Marks {
        Marks::new(',', Some('\u{202f}'), 1).expect("sound")
    }

    /// `1’234.5`
    pub fn swiss() -> Marks {
        Marks::new('.', Some('\u{2019}'), 1).expect("sound")
    }

    /// `1234,5` and `12.345,6`
    pub fn spanish() -> Marks {
        Marks::new(',', Some('.'), 2).expect("sound")
    }

    /// What `make` makes for a reader of these marks.
    pub fn read_by<T>(marks: Marks, make: impl FnOnce() -> T) -> T {
        super::in_english(|| {
            set(marks);
            make()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::countries::{french, german, read_by, spanish, swiss};
    use super::*;

    const PLAIN: [&str; 5] = ["0.35", "-999", "1234.5", "12345", "\u{2212}1234567.89"];

    fn all(marks: Marks) -> [String; 5] {
        read_by(marks, || PLAIN.map(written))
    }

    #[test]
    fn each_country_has_its_marks() {
        assert_eq!(
            all(Marks::ENGLISH),
            ["0.35", "-999", "1,234.5", "12,345", "\u{2212}1,234,567.89"]
        );
        assert_eq!(
            all(german()),
            ["0,35", "-999", "1.234,5", "12.345", "\u{2212}1.234.567,89"]
        );
        assert_eq!(
            all(french()),
            [
                "0,35",
                "-999",
                "1\u{202f}234,5",
                "12\u{202f}345",
                "\u{2212}1\u{202f}234\u{202f}567,89"
            ]
        );
        assert_eq!(
            all(swiss()),
            [
                "0.35",
                "-999",
                "1\u{2019}234.5",
                "12\u{2019}345",
                "\u{2212}1\u{2019}234\u{2019}567.89"
            ]
        );
        assert_eq!(
            all(spanish()),
            ["0,35", "-999", "1234,5", "12.345", "\u{2212}1.234.567,89"]
        );
        assert_eq!(
            all(Marks::new(',', None, 1).expect("sound")),
            ["0,35", "-999", "1234,5", "12345", "\u{2212}1234567,89"]
        );
    }

    #[test]
    fn what_stands_about_the_digits_stays() {
        read_by(german(), || {
            assert_eq!(written("1.5e-7"), "1,5e-7");
            assert_eq!(written("<0.1 %"), "<0,1 %");
            assert_eq!(written("not known"), "not known");
            assert_eq!(pointed("1234.5"), "1234,5");
        });
    }

    #[test]
    fn marks_that_could_not_be_read_again_are_none() {
        for (decimal, thousands) in [
            (',', Some(',')),
            ('5', None),
            ('.', Some('0')),
            ('-', Some('.')),
            ('.', Some('\u{2212}')),
            ('e', None),
            (' ', Some('.')),
            ('.', Some('\u{663}')),
        ] {
            assert_eq!(Marks::new(decimal, thousands, 1), None);
        }
        assert_eq!(Marks::new('.', Some(','), 0), None);
        assert_eq!(Marks::new('.', Some(','), 1), Some(Marks::ENGLISH));
    }

    #[test]
    fn marks_are_of_one_thread_and_come_back() {
        set(german());
        assert_eq!(in_english(|| written("1234.5")), "1,234.5");
        assert_eq!(marks(), german());
        let other = std::thread::spawn(marks).join().expect("it ends");
        assert_eq!(other, Marks::ENGLISH);
        set(Marks::ENGLISH);
        assert_eq!(written("1234.5"), "1,234.5");
    }
}
