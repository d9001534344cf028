//! Where an image lies in the memory of the emulated boards.

use std::env;
use std::fs;
use std::path::PathBuf;

/// Flash and memory: mps2-an386 (Cortex-M4F), of whose 4 MB of memory as much is used as a small
/// part has; and microbit (Cortex-M0), an nRF51822 with 256 KB and 16 KB.
fn memory(target: &str) -> Option<&'static str> {
    match target {
        "thumbv7em-none-eabihf" => Some(
            "MEMORY { FLASH : ORIGIN = 0x00000000, LENGTH = 256K
                      RAM : ORIGIN = 0x20000000, LENGTH = 64K }",
        ),
        "thumbv6m-none-eabi" => Some(
            "MEMORY { FLASH : ORIGIN = 0x00000000, LENGTH = 256K
                      RAM : ORIGIN = 0x20000000, LENGTH = 16K }",
        ),
        _ => None,
    }
}

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let target = env::var("TARGET").unwrap_or_default();
    let Some(memory) = memory(&target) else {
        return;
    };
    let folder = PathBuf::from(env::var_os("OUT_DIR").expect("cargo sets OUT_DIR"));
    fs::write(folder.join("memory.x"), memory).expect("OUT_DIR can be written");
    println!("cargo:rustc-link-search={}", folder.display());
    println!("cargo:rustc-link-arg-bins=-Tlink.x");
    println!("cargo:rustc-link-arg-bins=--nmagic");
}
