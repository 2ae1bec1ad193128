//! What is still to be proven, the likeliest to be the nearest first: roots, of which only the boxes about them have been
//! looked at, and cells that are left of roots already looked at.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// One thing that is still to be proven.
struct Open<T> {
    /// What the gap is likely to be; of a root, what is proven of it.
    likely_m: f64,
    /// Of equals the greater one comes first.
    order: i64,
    what: T,
}

impl<T> PartialEq for Open<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for Open<T> {}

impl<T> PartialOrd for Open<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The heap gives the greatest: the least likely gap.
impl<T> Ord for Open<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        other.likely_m.total_cmp(&self.likely_m).then(self.order.cmp(&other.order))
    }
}

pub(super) struct Frontier<R, C> {
    roots: BinaryHeap<Open<R>>,
    cells: BinaryHeap<Open<C>>,
    order: i64,
}

pub(super) enum Next<R, C> {
    /// With what is proven of it: of every root that is left at least that.
    Root(f64, R),
    Cell(C),
}

impl<R, C> Frontier<R, C> {
    /// From the roots with what is proven of each; of equals the first one comes first.
    pub fn of(roots: impl Iterator<Item = (f64, R)>) -> Self {
        let open = roots.zip(0_i64..).map(|((likely_m, what), order)| Open { likely_m, order: -order, what });
        Self { roots: open.collect::<Vec<_>>().into(), cells: BinaryHeap::new(), order: 0 }
    }

    /// Of equals the one that came last, which is the smaller one, comes first.
    pub fn push(&mut self, likely_m: f64, cell: C) {
        self.order += 1;
        self.cells.push(Open { likely_m, order: self.order, what: cell });
    }

    pub fn next(&mut self) -> Option<Next<R, C>> {
        let (root, cell) = (self.roots.peek(), self.cells.peek());
        match (root, cell) {
            (Some(root), Some(cell)) if cell.likely_m < root.likely_m => {}
            (Some(_), _) => return self.roots.pop().map(|root| Next::Root(root.likely_m, root.what)),
            _ => {}
        }
        self.cells.pop().map(|cell| Next::Cell(cell.what))
    }

    /// No root is looked at any more: those that are left, in no order.
    pub fn no_more_roots(&mut self) -> impl Iterator<Item = (f64, R)> {
        std::mem::take(&mut self.roots).into_iter().map(|root| (root.likely_m, root.what))
    }
}
