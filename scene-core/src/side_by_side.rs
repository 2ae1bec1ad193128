//! Parallel work, one thread per processor. Results and their order do not depend on the number of threads.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// The result of `of` for every item, in the order of the items.
pub(crate) fn map<T: Sync, R: Send>(items: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(items.len());
    if threads < 2 {
        return items.iter().map(of).collect();
    }
    let next = AtomicUsize::new(0);
    let work = || {
        let mut found: Vec<(usize, R)> = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(index) else { return found };
            found.push((index, of(item)));
        }
    };
    let mut found = thread::scope(|scope| {
        // If the system refuses a thread, the others do its work.
        let others: Vec<_> =
            (1..threads).filter_map(|_| thread::Builder::new().spawn_scoped(scope, work).ok()).collect();
        let mut found = work();
        for other in others {
            match other.join() {
                Ok(more) => found.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        found
    });
    found.sort_unstable_by_key(|(index, _)| *index);
    found.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::map;

    #[test]
    fn what_comes_out_stands_in_the_order_of_what_went_in() {
        for count in [0, 1, 2, 1000] {
            let items: Vec<usize> = (0..count).collect();
            assert_eq!(map(&items, |item| item * item), items.iter().map(|item| item * item).collect::<Vec<_>>());
        }
    }
}
