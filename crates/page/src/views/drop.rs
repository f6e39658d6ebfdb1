//! Files dropped anywhere on the page.

use super::files;
use crate::browser::bytes;
use crate::state::{Model, Notice};
use crate::words::steps as words;
use leptos::prelude::*;
use leptos::task::spawn_local;
use stand::{FileKind, file_kind};
use web_sys::{DragEvent, File};

/// Whether files are dragged, and not a piece of text.
fn brings_files(event: &DragEvent) -> bool {
    let types = event.data_transfer().map(|d| d.types());
    types.is_some_and(|types| {
        types
            .iter()
            .any(|t| t.as_string().as_deref() == Some("Files"))
    })
}

fn dropped(event: &DragEvent) -> Vec<File> {
    let list = event.data_transfer().and_then(|d| d.files());
    let list = list.iter();
    list.flat_map(|l| (0..l.length()).filter_map(move |i| l.get(i)))
        .collect()
}

fn refuse(model: Model, line: String) {
    let lines = vec![line];
    model.notice.set(Some(Notice { bad: true, lines }));
}

fn take(model: Model, files: Vec<File>) {
    let names: Vec<String> = files.iter().map(File::name).collect();
    let [file] = &files[..] else {
        return refuse(
            model,
            if files.is_empty() {
                words::NO_FILE.into()
            } else {
                words::too_many(&names)
            },
        );
    };
    let (file, name) = (file.clone(), file.name());
    let kind = file_kind(&name);
    if kind == FileKind::Other {
        return refuse(model, words::other_kind(&name));
    }
    spawn_local(async move {
        match bytes(&file).await {
            Err(problem) => refuse(model, problem),
            Ok(content) if kind == FileKind::Pilot => files::learn_apart(model, name, content),
            Ok(content) => files::take_bytes(model, name, content, move |name| {
                let lines = vec![words::opened(name)];
                model.notice.set(Some(Notice { bad: false, lines }));
            }),
        }
    });
}

/// Listens for files over the window; the hint is seen while one is there.
pub fn view(model: Model) -> impl IntoView {
    // How many elements the file is over: it enters a child before it leaves the parent.
    let over = RwSignal::new(0i32);
    let enter = window_event_listener(leptos::ev::dragenter, move |e| {
        if brings_files(&e) {
            e.prevent_default();
            over.update(|n| *n += 1);
        }
    });
    let leave = window_event_listener(leptos::ev::dragleave, move |e| {
        if brings_files(&e) {
            over.update(|n| *n = (*n - 1).max(0));
        }
    });
    // Without this the browser would leave the page and show the file.
    let above = window_event_listener(leptos::ev::dragover, move |e| {
        if brings_files(&e) {
            e.prevent_default();
        }
    });
    let drop = window_event_listener(leptos::ev::drop, move |e| {
        over.set(0);
        if brings_files(&e) {
            e.prevent_default();
            take(model, dropped(&e));
        }
    });
    let all = [enter, leave, above, drop];
    on_cleanup(move || all.into_iter().for_each(WindowListenerHandle::remove));
    view! {
        <div class="drop-hint" id="drop-hint" role="status" class:drop-hint-shown=move || over.get().is_positive()>
            {move || over.get().is_positive().then_some(words::DROP)}
        </div>
    }
}
