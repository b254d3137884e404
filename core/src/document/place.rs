//! Places in a document, kept as a chain and written out as a JSON Pointer only when a finding needs it.

/// A place in a JSON document.
#[derive(Debug, Clone, Copy)]
pub enum JsonPlace<'a> {
    /// The whole document.
    Root,
    /// A named value of an object.
    Name(&'a JsonPlace<'a>, &'a str),
    /// An item of an array, from 0.
    Item(&'a JsonPlace<'a>, usize),
}

impl JsonPlace<'_> {
    /// The JSON Pointer (RFC 6901) of this place.
    #[must_use]
    pub fn pointer(&self) -> String {
        match self {
            Self::Root => String::new(),
            Self::Name(parent, name) => format!("{}/{}", parent.pointer(), pointer_step(name)),
            Self::Item(parent, index) => format!("{}/{index}", parent.pointer()),
        }
    }
}

/// A name as one step of a JSON Pointer (RFC 6901, section 3): `~` becomes `~0` and `/` becomes `~1`.
#[must_use]
pub fn pointer_step(name: &str) -> String {
    name.replace('~', "~0").replace('/', "~1")
}

#[cfg(test)]
mod tests {
    use super::JsonPlace;

    #[test]
    fn names_are_escaped_after_rfc_6901() {
        // RFC 6901, section 3: `~` becomes `~0` and `/` becomes `~1`.
        let root = JsonPlace::Root;
        let points = JsonPlace::Name(&root, "points");
        let odd = JsonPlace::Name(&points, "a/b~c");
        assert_eq!(JsonPlace::Item(&odd, 2).pointer(), "/points/a~1b~0c/2");
    }
}
