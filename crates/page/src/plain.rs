//! The page and its workers, for browsers without WebAssembly's vector instructions: the same numbers, somewhat later.

fn main() {
    page::begin();
}
