//! The image: semihosting in place of a camera's flash memory and console.

mod bare;

use core::panic::PanicInfo;

use cortex_m::peripheral::syst::SystClkSource;
use cortex_m::peripheral::{Peripherals, SYST};
use cortex_m::singleton;
use cortex_m_rt::entry;
use cortex_m_semihosting::debug::{self, EXIT_FAILURE, ExitStatus};
use cortex_m_semihosting::hio::{HostStream, hstderr, hstdout};
use overwinter_firmware::{ERASED, Line, Slots, answer, gauge};
use overwinter_model::blob;
use overwinter_model::installation::Installation;

/// The longest blob that the image takes: more than any camera's that `.ci/firmware` makes.
const MOST_BYTES: usize = 1024;

/// SysTick counts 24 bits down.
const TURN: u32 = 0x00ff_ffff;

/// Ticks of SysTick, read so often that it never turns over twice.
struct Stopwatch {
    last: u32,
    ticks: u64,
}

impl Stopwatch {
    fn start(syst: &mut SYST) -> Self {
        syst.set_clock_source(SystClkSource::Core);
        syst.set_reload(TURN);
        syst.clear_current();
        syst.enable_counter();
        Self {
            last: TURN,
            ticks: 0,
        }
    }

    fn read(&mut self) {
        let now = SYST::get_current();
        self.ticks += u64::from(self.last.wrapping_sub(now) & TURN);
        self.last = now;
    }
}

#[entry]
fn main() -> ! {
    exit(run())
}

/// Reads the blob that the command line names, and prints its answer and what it took.
fn run() -> ExitStatus {
    let mut stdout = hstdout()?;
    let out = &mut |text: &[u8]| print(&mut stdout, text);
    let (installation, checksum) = load()?;
    write_stack("stack-decoding", out);
    let ticks = season(installation, out)?;
    Line::new(out, "ticks").number(ticks).end();
    write_stack("stack", out);
    gauge(installation, checksum, slots().ok_or(())?, out);
    write_stack("stack-gauge", out);
    Ok(())
}

/// Writes the deepest that the stack has been since the last time.
fn write_stack(name: &str, out: &mut impl FnMut(&[u8])) {
    Line::new(out, name).whole(bare::stack_used()).end();
    bare::paint_stack();
}

/// Not on the stack: a camera has its blob in flash, and one installation for good.
#[inline(never)]
fn load() -> Result<(&'static Installation, u32), ()> {
    let buffer = singleton!(: [u8; MOST_BYTES] = [0; MOST_BYTES]).ok_or(())?;
    let installation = place().ok_or(())?;
    let bytes = bare::read_named_file(buffer).ok_or(())?;
    if !decode(bytes, installation) {
        print(&mut hstderr()?, b"this is not a blob that can be run\n");
        return Err(());
    }
    Ok((installation, blob::checksum(bytes)))
}

/// A function of its own, so that its size can be told from the image's.
#[inline(never)]
fn decode(bytes: &[u8], place: &mut Installation) -> bool {
    blob::decode_into(bytes, place).is_ok()
}

/// Not part of its caller: an installation stands on its stack on the way to memory.
#[inline(never)]
fn place() -> Option<&'static mut Installation> {
    singleton!(: Installation = Installation::blank())
}

/// The same.
#[inline(never)]
fn slots() -> Option<&'static mut Slots> {
    singleton!(: Slots = ERASED)
}

/// Gives the ticks that the season takes.
#[inline(never)]
fn season(installation: &Installation, out: &mut impl FnMut(&[u8])) -> Result<u64, ()> {
    let mut syst = Peripherals::take().ok_or(())?.SYST;
    let mut stopwatch = Stopwatch::start(&mut syst);
    answer(installation, &mut |text| {
        stopwatch.read();
        out(text);
    });
    Ok(stopwatch.ticks)
}

/// A console that is gone cannot be told so; the answer will be found too short.
fn print(console: &mut HostStream, text: &[u8]) {
    let _ = console.write_all(text);
}

/// Ends the emulation.
fn exit(status: ExitStatus) -> ! {
    debug::exit(status);
    loop {
        cortex_m::asm::wfi();
    }
}

/// Never linked: `.ci/firmware` refuses an image that holds it.
#[panic_handler]
fn panic(_: &PanicInfo<'_>) -> ! {
    exit(EXIT_FAILURE)
}
