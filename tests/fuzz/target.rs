//! What a fuzz target is.

/// A target with its seeds.
pub(crate) struct Target {
    /// Its name.
    #[allow(dead_code, reason = "for the folder of the corpus")]
    pub(crate) name: &'static str,
    /// What must hold; panics where it does not.
    #[allow(dead_code, reason = "the targets call it by its name")]
    pub(crate) body: fn(&[u8]),
    /// Inputs to begin with.
    #[allow(dead_code, reason = "the targets have them as files")]
    pub(crate) seeds: fn() -> Vec<Vec<u8>>,
}
