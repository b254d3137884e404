//! A neutral drawing in millimetres, before it becomes PDF or SVG.
