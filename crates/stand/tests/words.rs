//! What a person reads stands in `src/words`, so that another language is a change in one place: no other source here
//! or of the page holds text for people.

use std::fs;
use std::path::{Path, PathBuf};

/// Attributes whose text is read, or read out.
const READ_ATTRIBUTES: [&str; 7] = [
    "alt",
    "aria-description",
    "aria-label",
    "aria-roledescription",
    "aria-valuetext",
    "placeholder",
    "title",
];

/// What stands before a text for programmers, which nobody sees on the page.
const FOR_PROGRAMMERS: [&str; 4] = ["expect(", "ok_or(", "panic!(", "unreachable!("];

/// What looks like text for people and is none.
const EXCEPTIONS: [&str; 14] = [
    // Lists of classes.
    " heat-bad{}",
    " heat-blank",
    " heat-good{}",
    " heat-line-below",
    " heat-line-right",
    " heat-own",
    "badge badge-{word}",
    "badge badge-{}",
    "fg-spot fg-read",
    "notice notice-bad",
    // Asked of the browser.
    "(prefers-reduced-motion: reduce)",
    "Files",
    // Asked when a link is written.
    "Option::is_none",
    // Digits of links.
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_",
];

/// A string literal with what stands around it.
struct Literal<'a> {
    line: usize,
    text: &'a str,
    before: &'a str,
    after: &'a str,
}

/// The end of a literal that begins at the quotation mark of `source[at..]`.
fn end_of(source: &str, at: usize) -> usize {
    let mut escaped = false;
    for (i, c) in source[at + 1..].char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1 + i,
            _ => {}
        }
    }
    panic!("a literal without an end");
}

/// How long a character in single quotation marks is; a lifetime is none.
fn character(rest: &str) -> Option<usize> {
    let mut inside = rest[1..].chars();
    if inside.next()? == '\\' {
        return Some(2 + rest[2..].find('\'')?);
    }
    let end = inside.as_str();
    end.starts_with('\'').then(|| rest.len() - end.len() + 1)
}

/// All literals of a source, comments left out.
fn literals(source: &str) -> Vec<Literal<'_>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(c) = source[at..].chars().next() {
        let rest = &source[at..];
        at += if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if c == '\'' {
            character(rest).unwrap_or(1)
        } else if c == '"' {
            let end = end_of(source, at);
            found.push(Literal {
                line: 1 + source[..at].matches('\n').count(),
                text: &source[at + 1..end],
                before: &source[..at],
                after: source[end + 1..].trim_start(),
            });
            end + 1 - at
        } else {
            c.len_utf8()
        };
    }
    found
}

/// A literal without what is put into it, and without escapes.
fn bare(text: &str) -> String {
    let mut bare = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        match c {
            // With the braces of a code point, which go the same way as those of a value.
            '\\' => drop(chars.next()),
            '{' => drop(chars.find(|c| *c == '}')),
            c => bare.push(c),
        }
    }
    bare
}

/// The attribute that a literal is the value of.
fn attribute(before: &str) -> Option<&str> {
    let before = before.strip_suffix('=')?;
    let start = before.rfind(|c: char| !c.is_alphanumeric() && c != '-' && c != ':')?;
    Some(&before[start + 1..]).filter(|name| !name.is_empty())
}

/// Whether a literal stands between the elements of a view.
fn is_node(before: &str) -> bool {
    let before = before.trim_end();
    let arrow = before.ends_with("=>") || before.ends_with("->");
    before.ends_with("view! {") || (before.ends_with(['>', '}', '"']) && !arrow)
}

/// Whether a literal looks like text for people.
fn is_for_people(literal: &Literal<'_>) -> bool {
    let text = bare(literal.text);
    let has_letters = text.contains(char::is_alphabetic);
    let before = literal.before.trim_end();
    // Patterns and comparisons are of keys.
    let compared = literal.after.starts_with("=>")
        || (literal.after.starts_with('|') && !literal.after.starts_with("||"))
        || before.ends_with("==");
    // Names of what the browser has.
    let asked = before.ends_with('&') && literal.after.starts_with(".into()");
    if !has_letters || compared || asked || FOR_PROGRAMMERS.iter().any(|p| before.ends_with(p)) {
        return false;
    }
    if let Some(name) = attribute(literal.before) {
        return READ_ATTRIBUTES.contains(&name);
    }
    let begins_large = text.starts_with(char::is_uppercase) && text.contains(char::is_lowercase);
    is_node(before) || begins_large || text.contains(char::is_whitespace)
}

/// The text for people in a source, tests left out.
fn for_people(source: &str) -> Vec<Literal<'_>> {
    let end = source.find("#[cfg(test)]\nmod ");
    let mut found = literals(&source[..end.unwrap_or(source.len())]);
    found.retain(is_for_people);
    found
}

/// All sources of the page but its words.
fn sources(under: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(under).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.file_stem().is_some_and(|name| name == "words") {
            continue;
        }
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn text_for_people_stands_among_the_words() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut all = Vec::new();
    for of in ["page", "stand"] {
        sources(&root.join(of).join("src"), &mut all);
    }
    all.sort();
    assert!(all.len() > 50, "too few sources: {all:?}");
    let mut elsewhere = Vec::new();
    let mut used = Vec::new();
    for path in all {
        let source = fs::read_to_string(&path).expect("a source");
        for literal in for_people(&source) {
            if let Some(exception) = EXCEPTIONS.iter().find(|e| **e == literal.text) {
                used.push(exception);
                continue;
            }
            let file = path.strip_prefix(&root).expect("below the root").display();
            elsewhere.push(format!("{file}:{}: \"{}\"", literal.line, literal.text));
        }
    }
    assert!(
        elsewhere.is_empty(),
        "text for people belongs in stand/src/words:\n{}",
        elsewhere.join("\n")
    );
    let needless: Vec<_> = EXCEPTIONS.iter().filter(|e| !used.contains(e)).collect();
    assert!(needless.is_empty(), "exceptions of nothing: {needless:?}");
}

#[test]
fn text_for_people_is_known() {
    let found = |source: &str| {
        let found = for_people(source);
        found.iter().map(|l| l.text.to_string()).collect::<Vec<_>>()
    };
    for text in [
        r#"view! { <p>"Find the plan"</p> }"#,
        r#"view! { <p>{a} "name"</p> }"#,
        r#"view! { "of" }"#,
        r#"view! { <input aria-label="seed" /> }"#,
        r#"let c = '"'; let s = "two words";"#,
        r#"format!("{n} hours")"#,
        r#"let s = "Close";"#,
        r#"fn f<'a>(s: &'a str) -> String { g("\"Yes\" it is") }"#,
    ] {
        assert_eq!(found(text).len(), 1, "{text}");
    }
    for text in [
        r#"view! { <p class="notice bad" id=format!("look-{n}")>{words::NAME} " "</p> }"#,
        r#"// "Find the plan""#,
        r#"match key { "Home" => 0, "End" | "Page up" => 1 }"#,
        r#"number(model, "plan.sites")"#,
        r#"value.expect("a plan")"#,
        r#"if key == "Enter" {}"#,
        r#"Reflect::get(&intl, &"NumberFormat".into())"#,
        "#[cfg(test)]\nmod tests { const A: &str = \"Find the plan\"; }",
    ] {
        assert_eq!(found(text), Vec::<String>::new(), "{text}");
    }
}
