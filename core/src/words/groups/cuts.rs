//! Kinds of cut, and what they are fitted to.

crate::phrases! {
    /// Kinds of cut, and what they are fitted to.
    Cuts {
        square();
        mitre();
        cope();
        cope_and_mitre();
        plug();
        sleeve();
        square_to(parts);
        mitre_to(parts);
        cope_to(parts);
        cope_and_mitre_to(parts);
        plug_into(parts);
        sleeve_over(parts);
    }
}
