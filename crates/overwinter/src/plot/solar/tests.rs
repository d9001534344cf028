//! Pictures of panels as they are laid out; `plot/tests.rs` looks at whether they fit.
