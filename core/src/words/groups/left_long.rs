//! When what is left long is cut off.

crate::phrases! {
    /// When what is left long is cut off.
    LeftLong {
        on_the_bench(step);
        in_place(step);
        cut_it(length, when);
        until(length, step);
        trimmed(long, when);
        trimmed_apart(long, end, when, other_end, other_when);
    }
}
