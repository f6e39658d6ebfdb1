//! The page and its workers, for browsers that have WebAssembly's vector instructions.

fn main() {
    #[cfg(target_arch = "wasm32")]
    engine::host::use_vectors();
    page::begin();
}
