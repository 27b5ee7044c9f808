//! Ids in order, each with its place in it.

/// Sorted ids of one kind; an id's index is its place in the order.
#[derive(Debug, Clone)]
pub(crate) struct Index<I> {
    ids: Vec<I>,
}

impl<I: Ord + AsRef<str>> Index<I> {
    /// Sorts what it is given and keeps each once.
    pub(crate) fn new(ids: impl IntoIterator<Item = I>) -> Self {
        let mut ids: Vec<I> = ids.into_iter().collect();
        ids.sort();
        ids.dedup();
        Self { ids }
    }

    /// The index of an id.
    pub(crate) fn find(&self, id: &str) -> Option<usize> {
        self.ids.binary_search_by(|held| held.as_ref().cmp(id)).ok()
    }

    /// The id at an index.
    pub(crate) fn get(&self, at: usize) -> Option<&I> {
        self.ids.get(at)
    }

    /// How many there are.
    pub(crate) fn len(&self) -> usize {
        self.ids.len()
    }

    /// The ids with their indices, in order.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (usize, &I)> {
        self.ids.iter().enumerate()
    }
}
