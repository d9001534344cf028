//! All cores of the machine.

use overwinter_line::host::Workers;
use rayon::prelude::*;

/// Parts of the work go to whichever thread is free.
pub(super) struct Threads;

impl Workers for Threads {
    fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync)) {
        (0..parts).into_par_iter().for_each(work);
    }
}
