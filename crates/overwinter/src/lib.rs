//! The command `overwinter`: arguments, files, text and pictures around [`overwinter_line`].

pub mod cli;
pub mod command;
pub mod host;
pub mod notice;
pub mod output;
pub mod plot;
pub mod table;
