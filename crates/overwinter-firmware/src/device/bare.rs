//! What cannot be said in safe Rust: files of the host, the stack's paint, the fault handler.

#![allow(unsafe_code, reason = "the only file of the image that needs it")]

use core::ptr;

use cortex_m_rt::{ExceptionFrame, STACK_PAINT_VALUE, exception};
use cortex_m_semihosting::{nr, syscall, syscall1};

unsafe extern "C" {
    static _stack_start: u32;
    static _stack_end: u32;
}

/// The longest command line: a name for the image, a space, the path of the blob, and a zero.
const LONGEST_COMMAND: usize = 256;

/// What a call to the host gives where it fails.
const FAILED: usize = usize::MAX;

/// Reads the file whose path is the last word of the command line into `buffer`; `None` if there
/// is no such file.
pub(super) fn read_named_file(buffer: &mut [u8]) -> Option<&[u8]> {
    let mut text = [0; LONGEST_COMMAND];
    let mut block = [text.as_mut_ptr() as usize, LONGEST_COMMAND];
    // SAFETY: the host writes at most as many bytes as it is told to `text`, and the length to
    // the block's second word; both live until after the call.
    let status = unsafe { syscall1!(GET_CMDLINE, block.as_mut_ptr()) };
    let command = (status == 0).then_some(text.get(..block[1])?)?;
    let start = command.iter().rposition(|byte| *byte == b' ')? + 1;
    let path = command.get(start..)?;
    // SAFETY: the host reads `path` and the zero after it, which the rest of `text` is filled with.
    let file = unsafe { syscall!(OPEN, path.as_ptr(), nr::open::R_BINARY, path.len()) };
    if file == FAILED {
        return None;
    }
    // SAFETY: the host writes at most as many bytes as `buffer` has.
    let unread = unsafe { syscall!(READ, file, buffer.as_mut_ptr(), buffer.len()) };
    buffer.get(..buffer.len().checked_sub(unread)?)
}

/// The deepest that the stack has been since the start, in bytes.
pub(super) fn stack_used() -> u32 {
    let (top, bottom) = (&raw const _stack_start, &raw const _stack_end);
    let mut word = bottom;
    // SAFETY: the linker script puts both symbols at the ends of memory that was painted before
    // `main`, and the reads stay between them. Volatile, as the stack itself is read.
    while word < top && unsafe { ptr::read_volatile(word) } == STACK_PAINT_VALUE {
        word = word.wrapping_add(1);
    }
    (top as u32).wrapping_sub(word as u32)
}

/// Paints what the stack does not take now anew.
pub(super) fn paint_stack() {
    let here = cortex_m::register::msp::read();
    let mut word = (&raw const _stack_end).cast_mut();
    // Room for this very function and for an exception's frame.
    while (word as u32) < here - 256 {
        // SAFETY: between the stack's end and its top at this moment there is nothing.
        unsafe { ptr::write_volatile(word, STACK_PAINT_VALUE) };
        word = word.wrapping_add(1);
    }
}

/// A fault ends the run. The handler that comes with the runtime loops for ever.
#[exception]
unsafe fn HardFault(_: &ExceptionFrame) -> ! {
    super::exit(Err(()))
}
