//! Ending a search from outside.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A wish to end a search, shared with whoever may have it: a clone of it cancels the same search, from any thread.
///
/// Until it is cancelled it changes nothing of an answer.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Arc<AtomicBool>);

impl Cancel {
    /// A wish that nobody has yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Ends the searches that were given this or a clone of it, and those that will be.
    pub fn cancel(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it was cancelled.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

#[cfg(test)]
mod tests {
    use super::Cancel;

    #[test]
    fn a_clone_cancels_the_same() {
        let (one, other) = (Cancel::new(), Cancel::new());
        one.clone().cancel();
        assert!(one.is_cancelled());
        assert!(!other.is_cancelled());
    }
}
