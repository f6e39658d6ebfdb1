//! A small check that a string is well-formed XML with one root; only for tests.

/// Panics with a reason if `text` is not well formed, uses an id twice or refers to an id it lacks.
pub(crate) fn check(text: &str) {
    let mut open: Vec<String> = Vec::new();
    let mut ids: Vec<String> = Vec::new();
    let mut references: Vec<String> = Vec::new();
    let mut roots = 0;
    let mut rest = text;
    while let Some(start) = rest.find('<') {
        check_text(&rest[..start]);
        let end = rest[start..].find('>').expect("a tag is never closed") + start;
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "tags cross");
            continue;
        }
        let (body, alone) = tag
            .strip_suffix('/')
            .map_or((tag, false), |body| (body, true));
        let name: String = body
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric())
            .collect();
        assert!(!name.is_empty(), "a stray < in {tag}");
        roots += usize::from(open.is_empty());
        for (key, value) in attributes(&body[name.len()..]) {
            check_text(&value);
            match key.as_str() {
                "id" => ids.push(value),
                "aria-labelledby" | "aria-describedby" => references.push(value),
                _ => references.extend(
                    value
                        .strip_prefix("url(#")
                        .map(|v| v.trim_end_matches(')').to_string()),
                ),
            }
        }
        if !alone {
            open.push(name);
        }
    }
    check_text(rest);
    assert!(open.is_empty(), "left open: {open:?}");
    assert_eq!(roots, 1, "not one root");
    for reference in references {
        assert!(ids.contains(&reference), "no id {reference}");
    }
    let count = ids.len();
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), count, "an id is used twice");
}

fn attributes(mut rest: &str) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = Vec::new();
    while !rest.is_empty() {
        let body = rest
            .strip_prefix(' ')
            .expect("attributes are set apart by a space");
        let (key, after) = body
            .split_once("=\"")
            .expect("an attribute has a quoted value");
        let (value, after) = after.split_once('"').expect("a value ends in a quote");
        assert!(found.iter().all(|(other, _)| other != key), "{key} twice");
        found.push((key.to_string(), value.to_string()));
        rest = after;
    }
    found
}

fn check_text(text: &str) {
    assert!(
        text.chars().all(|c| !c.is_control() || c == '\n'),
        "a control character"
    );
    for piece in text.split('&').skip(1) {
        let (entity, _) = piece.split_once(';').expect("a bare ampersand");
        assert!(
            ["amp", "lt", "gt", "quot", "#39"].contains(&entity),
            "unknown entity {entity}"
        );
    }
}
