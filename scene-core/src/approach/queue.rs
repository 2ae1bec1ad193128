//! What a search has still to prove, most urgent first: roots, known only by the boxes around them, and cells left over
//! from examined roots.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// One entry.
struct Queued<T> {
    /// The estimated gap; for a root, its proven bound.
    likely_m: f64,
    /// Of equal entries the one with the greater order comes first.
    order: i64,
    what: T,
}

impl<T> PartialEq for Queued<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for Queued<T> {}

impl<T> PartialOrd for Queued<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The heap gives the greatest: the least likely gap.
impl<T> Ord for Queued<T> {
    /// A heap returns its greatest entry first: here the one with the smallest estimated gap.
    fn cmp(&self, other: &Self) -> Ordering {
        other.likely_m.total_cmp(&self.likely_m).then(self.order.cmp(&other.order))
    }
}

/// Roots and cells, smallest estimated gap first.
pub(super) struct SearchQueue<R, C> {
    roots: BinaryHeap<Queued<R>>,
    cells: BinaryHeap<Queued<C>>,
    order: i64,
}

/// The next entry.
pub(super) enum Next<R, C> {
    /// A root with its proven bound; every remaining root has at least that bound.
    Root(f64, R),
    /// A cell.
    Cell(C),
}

impl<R, C> SearchQueue<R, C> {
    /// A queue of roots, each with its proven bound. Of equal roots the first one comes first.
    pub fn of(roots: impl Iterator<Item = (f64, R)>) -> Self {
        let queued = roots.zip(0_i64..).map(|((likely_m, what), order)| Queued { likely_m, order: -order, what });
        Self { roots: queued.collect::<Vec<_>>().into(), cells: BinaryHeap::new(), order: 0 }
    }

    /// Adds a cell. Of equal cells the last one comes first, because it is the smaller one.
    pub fn push(&mut self, likely_m: f64, cell: C) {
        self.order += 1;
        self.cells.push(Queued { likely_m, order: self.order, what: cell });
    }

    /// The entry with the smallest estimated gap.
    pub fn next(&mut self) -> Option<Next<R, C>> {
        let (root, cell) = (self.roots.peek(), self.cells.peek());
        match (root, cell) {
            (Some(root), Some(cell)) if cell.likely_m < root.likely_m => {}
            (Some(_), _) => return self.roots.pop().map(|root| Next::Root(root.likely_m, root.what)),
            _ => {}
        }
        self.cells.pop().map(|cell| Next::Cell(cell.what))
    }

    /// Removes all remaining roots, in no order.
    pub fn drain_roots(&mut self) -> impl Iterator<Item = (f64, R)> {
        std::mem::take(&mut self.roots).into_iter().map(|root| (root.likely_m, root.what))
    }
}
