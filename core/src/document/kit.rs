//! What differs from kit to kit: choices fixed when it is sold, and what its builder measured.

use super::field::{record, words};
use super::point::{Direction, PointRef};
use super::scalar::{Measure, Name, Text};
use std::collections::BTreeMap;

/// Options with the choice under which a thing is there.
pub type When = BTreeMap<String, Name>;

record! {
    /// A choice fixed for each kit.
    pub struct Choice most 12 {
        /// What is chosen, in words.
        required what: Text,
        /// The names of what can be chosen, at least two.
        required choices: Vec<Name>,
    }
}

record! {
    /// A quantity measured on the frame that a builder has.
    pub struct Gauge most 100 {
        /// What is measured, and between which places.
        required what: Text,
        /// What it measures on a frame made to nominal size, mm.
        required nominal: Measure,
        /// The least that can be taken into account, mm.
        required least: Measure,
        /// The most that can be taken into account, mm.
        required most: Measure,
        /// Which points move, and how: mm in x, y and z for each mm over nominal.
        required moves: BTreeMap<String, Direction>,
    }
}

record! {
    /// A dimension to check before and after welding.
    pub struct Check most 500 {
        /// What is measured, in words.
        optional what: Text,
        /// The two points between which it is measured.
        required between: Vec<PointRef>,
        /// Measured along one axis only.
        optional along: Axis,
        /// Tolerance class of ISO 13920; that of the design when absent.
        optional class: Class,
    }
}

record! {
    /// Something to do between two members of the fit-up order.
    pub struct Step most 1_000 {
        /// What to do.
        required what: Text,
        /// Id of the member or plate after which it is done.
        required after: Name,
        /// Names of the checks to make here.
        optional checks: Vec<Name>,
        /// Names of the gauges to measure here, while the ends that hang on them are still long.
        optional gauges: Vec<Name>,
        /// Options under which it is done; always when absent.
        optional when: When,
    }
}

words! {
    /// An axis of the frame.
    pub enum Axis {
        /// Forward.
        X = "x",
        /// Left.
        Y = "y",
        /// Up.
        Z = "z",
    }
}

words! {
    /// Tolerance class of ISO 13920 for linear dimensions.
    pub enum Class {
        /// The finest.
        A = "A",
        /// Fine.
        B = "B",
        /// Medium.
        C = "C",
        /// The widest.
        D = "D",
    }
}
