//! Pictures as they are written.
