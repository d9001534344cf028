//! Who works on the parts of a long piece of work.

use std::sync::{Mutex, PoisonError};

/// Work in parts that may be done at the same time.
pub trait Workers: Sync {
    /// Calls `work` once with each number below `parts`, in any order and on any threads; comes back when
    /// all are done.
    fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync));
}

/// One part after the other, on the caller's thread.
#[derive(Clone, Copy, Debug, Default)]
pub struct OneByOne;

impl Workers for OneByOne {
    fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync)) {
        (0..parts).for_each(work);
    }
}

/// What `work` gives for each number below `parts`, in the order of the numbers whoever does it: an answer
/// must not depend on the threads.
pub fn gather<T: Send>(
    workers: &dyn Workers,
    parts: usize,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    let done: Vec<Mutex<Option<T>>> = (0..parts).map(|_| Mutex::new(None)).collect();
    workers.each(parts, &|part| {
        let result = work(part);
        if let Some(slot) = done.get(part) {
            *slot.lock().unwrap_or_else(PoisonError::into_inner) = Some(result);
        }
    });
    done.into_iter()
        .filter_map(|slot| slot.into_inner().unwrap_or_else(PoisonError::into_inner))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Does the last part first.
    struct Backwards;

    impl Workers for Backwards {
        fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync)) {
            (0..parts).rev().for_each(work);
        }
    }

    #[test]
    fn results_stand_in_the_order_of_the_parts() {
        for workers in [&OneByOne as &dyn Workers, &Backwards] {
            let squares = gather(workers, 5, |part| part * part);
            assert_eq!(squares, [0, 1, 4, 9, 16]);
        }
    }
}
