//! Sections of a line file as Rust types: every key optional, every value with its place.

use super::value::Value;

/// A section as its keys' names see it.
pub(in crate::line) trait Keyed {
    /// Whether a key has a value.
    fn has(&self, key: &str) -> bool;

    /// Gives a key another value, or takes its own away; whether there is such a key, and it can
    /// have such a value.
    fn put(&mut self, key: &str, value: Option<&Value>) -> bool;
}

/// Defines a section whose keys are all optional and keep their place in the file.
macro_rules! section {
    ($(#[$doc:meta])* $name:ident { $($(#[$key_doc:meta])* $key:ident: $type:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(in crate::line) struct $name {
            $($(#[$key_doc])* pub(in crate::line) $key: Option<Spanned<$type>>,)*
        }

        impl $name {
            /// Every key by its name.
            pub(in crate::line) const KEYS: &[&str] = &[$(stringify!($key)),*];

            /// What each key's values are.
            #[allow(dead_code, reason = "a sweep does not vary every section")]
            pub(in crate::line) const TYPES: &[(&str, KeyType)] =
                &[$((stringify!($key), <$type as OfFile>::TYPE)),*];

            /// The place of a key's value in the file, by the key's name.
            pub(in crate::line) fn place_of(&self, key: &str) -> Option<std::ops::Range<usize>> {
                match key {
                    $(stringify!($key) => self.$key.as_ref().map(Spanned::span),)*
                    _ => None,
                }
            }
        }

        impl Keyed for $name {
            fn has(&self, key: &str) -> bool {
                self.place_of(key).is_some()
            }

            fn put(&mut self, key: &str, value: Option<&Value>) -> bool {
                match key {
                    $(stringify!($key) => {
                        let of_file = value.and_then(OfFile::from_value);
                        // It stands nowhere in the file.
                        self.$key = of_file.map(|of_file| Spanned::new(0..0, of_file));
                        self.$key.is_some() == value.is_some()
                    })*
                    _ => false,
                }
            }
        }
    };
}

/// A section that stands once for the whole line and again in each camera.
macro_rules! shared_section {
    ($(#[$doc:meta])* $name:ident { $($(#[$key_doc:meta])* $key:ident: $type:ty,)* }) => {
        section!($(#[$doc])* $name { $($(#[$key_doc])* $key: $type,)* });

        impl $name {
            /// These keys, and those of `below` where there is none here.
            pub(in crate::line) fn over(&self, below: &Self) -> Self {
                Self { $($key: self.$key.clone().or_else(|| below.$key.clone()),)* }
            }
        }
    };
}
