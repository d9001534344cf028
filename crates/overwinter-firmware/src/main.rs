//! On a microcontroller: reads a blob from the host, runs it, and prints the answer. On a computer:
//! makes blobs, and gives the same answers to hold the device's against.

#![cfg_attr(target_os = "none", no_std, no_main)]

#[cfg(target_os = "none")]
mod device;

#[cfg(not(target_os = "none"))]
mod host;

#[cfg(not(target_os = "none"))]
fn main() -> std::process::ExitCode {
    host::main()
}
