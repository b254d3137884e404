//! Combinations of choices in which options that meet come in every combination of theirs.

use super::meet::{Group, Options};

/// The number of a choice for each option.
pub(super) type Combination = Vec<usize>;

/// Combinations that cover all groups.
pub(super) enum Cover {
    /// These do, that of the first choices first.
    By(Vec<Combination>),
    /// It would take too many, for this group first.
    TooLarge(Group),
}

/// A choice for some options.
type PartialChoice = Vec<Option<usize>>;

/// Every combination of the choices of a group with the first choices of all others; that of the first choices first.
pub(super) fn every_combination(options: &Options, group: Group, count: usize) -> Vec<Combination> {
    let mut combinations = Vec::with_capacity(count);
    combinations.push(vec![0; options.count()]);
    for option in (0..options.count()).filter(|option| group & (1 << option) != 0) {
        let choices = options.number_of_choices(option);
        let with = |combination: Combination| {
            (0..choices).map(move |choice| {
                let mut longer = combination.clone();
                longer[option] = choice;
                longer
            })
        };
        combinations = combinations.into_iter().flat_map(with).collect();
    }
    combinations
}

/// Few combinations in which each group has every combination of its choices, and each option every choice; at most `most`.
///
/// Each is filled with as many of the parts that are still wanted as do not contradict each other, the first wanted first.
pub(super) fn covering(options: &Options, groups: &[Group], most: usize) -> Cover {
    let mut wanted: Vec<PartialChoice> = Vec::new();
    let alone = (0..options.count()).map(|option| -> Group { 1 << option });
    for group in groups.iter().copied().chain(alone) {
        let Some(count) = options.combinations_of(group).filter(|&count| count <= most) else {
            return Cover::TooLarge(group);
        };
        let part = |combination: Combination| -> PartialChoice {
            let own = |(option, choice): (usize, usize)| (group & (1 << option) != 0).then_some(choice);
            combination.into_iter().enumerate().map(own).collect()
        };
        wanted.extend(every_combination(options, group, count).into_iter().map(part));
    }
    let mut combinations = vec![vec![0; options.count()]];
    wanted.retain(|part| !covers(&combinations[0], part));
    while !wanted.is_empty() {
        if combinations.len() == most {
            return Cover::TooLarge(options.all());
        }
        let mut filled: PartialChoice = vec![None; options.count()];
        for part in &wanted {
            let agrees = filled.iter().zip(part).all(|(have, want)| have.is_none() || want.is_none() || have == want);
            if agrees {
                for (have, want) in filled.iter_mut().zip(part) {
                    *have = have.or(*want);
                }
            }
        }
        let combination: Combination = filled.into_iter().map(|choice| choice.unwrap_or(0)).collect();
        wanted.retain(|part| !covers(&combination, part));
        combinations.push(combination);
    }
    Cover::By(combinations)
}

fn covers(combination: &Combination, part: &PartialChoice) -> bool {
    combination.iter().zip(part).all(|(choice, want)| want.is_none_or(|want| want == *choice))
}
