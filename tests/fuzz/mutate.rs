//! Small wounds to a JSON value.

use serde_json::{Value, json};

/// Numbers in a row that looks random (SplitMix64, public domain).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to `limit`, without it.
    pub fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(limit.max(1)).unwrap()).unwrap()
    }

    fn part(&mut self) -> f64 {
        f64::from(u32::try_from(self.next() >> 32).unwrap()) / f64::from(u32::MAX)
    }
}

/// Spoils one place of `value`.
pub fn spoil(value: &mut Value, dice: &mut Dice) {
    let names = strings(value);
    let place = dice.below(count(value));
    let wounded = at(value, place);
    match dice.below(10) {
        0 => *wounded = other(dice, &names),
        1 => drop_one(wounded, dice),
        2 => double_one(wounded, dice),
        3 => swap_two(wounded, dice),
        _ => nudge(wounded, dice, &names),
    }
}

fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(items) => items.iter().map(count).sum(),
        Value::Object(entries) => entries.values().map(count).sum(),
        _ => 0,
    }
}

/// The place of a number in the order of reading.
fn at(value: &mut Value, place: usize) -> &mut Value {
    fn walk<'a>(value: &'a mut Value, place: &mut usize) -> Option<&'a mut Value> {
        if *place == 0 {
            return Some(value);
        }
        *place -= 1;
        match value {
            Value::Array(items) => items.iter_mut().find_map(|item| walk(item, place)),
            Value::Object(entries) => entries.values_mut().find_map(|item| walk(item, place)),
            _ => None,
        }
    }
    let mut place = place;
    walk(value, &mut place).unwrap()
}

fn strings(value: &Value) -> Vec<String> {
    match value {
        Value::String(text) => vec![text.clone()],
        Value::Array(items) => items.iter().flat_map(strings).collect(),
        Value::Object(entries) => {
            entries.iter().flat_map(|(name, item)| [vec![name.clone()], strings(item)].concat()).collect()
        }
        _ => Vec::new(),
    }
}

const NUMBERS: [f64; 18] = [
    0.0, -0.0, 1.0, -1.0, 0.5, 1e-9, -1e-9, 1e-300, 1e9, -1e9, 1e308, 90.0, 180.0, 360.0, -90.0, 22.5, 100_000.0, 1e-3,
];

fn other(dice: &mut Dice, names: &[String]) -> Value {
    match dice.below(8) {
        0 => Value::Null,
        1 => json!(true),
        2 => json!(NUMBERS[dice.below(NUMBERS.len())]),
        3 => json!([]),
        4 => json!({}),
        5 => json!([0, 0, 0]),
        6 => json!("square"),
        _ => names.get(dice.below(names.len())).map_or(Value::Null, |name| json!(name)),
    }
}

/// A little off, or to another value of its kind.
fn nudge(value: &mut Value, dice: &mut Dice, names: &[String]) {
    match value {
        Value::Number(number) => {
            let was = number.as_f64().unwrap_or(0.0);
            *value = match dice.below(5) {
                0 => json!(NUMBERS[dice.below(NUMBERS.len())]),
                1 => json!(-was),
                2 => json!(was * 10f64.powf(4.0 * dice.part() - 2.0)),
                3 => json!(was + 2.0 * dice.part() - 1.0),
                _ => json!(was + (dice.part() - 0.5) * 1000.0),
            };
        }
        Value::String(text) => {
            if let Some(name) = names.get(dice.below(names.len())) {
                text.clone_from(name);
            }
        }
        Value::Bool(flag) => *flag = !*flag,
        Value::Array(_) | Value::Object(_) => {
            let inside = count(value) - 1;
            if inside > 0 {
                let place = 1 + dice.below(inside);
                let inner = at(value, place);
                if !matches!(inner, Value::Array(_) | Value::Object(_)) {
                    nudge(inner, dice, names);
                }
            }
        }
        Value::Null => *value = json!(0),
    }
}

fn drop_one(value: &mut Value, dice: &mut Dice) {
    match value {
        Value::Array(items) if !items.is_empty() => {
            items.remove(dice.below(items.len()));
        }
        Value::Object(entries) if !entries.is_empty() => {
            let name = entries.keys().nth(dice.below(entries.len())).cloned().unwrap();
            entries.remove(&name);
        }
        _ => {}
    }
}

fn double_one(value: &mut Value, dice: &mut Dice) {
    if let Value::Array(items) = value
        && !items.is_empty()
    {
        let item = items[dice.below(items.len())].clone();
        items.insert(dice.below(items.len() + 1), item);
    }
}

fn swap_two(value: &mut Value, dice: &mut Dice) {
    match value {
        Value::Array(items) if items.len() > 1 => {
            let (a, b) = (dice.below(items.len()), dice.below(items.len()));
            items.swap(a, b);
        }
        Value::Object(entries) if entries.len() > 1 => {
            let names: Vec<String> = entries.keys().cloned().collect();
            let (a, b) = (&names[dice.below(names.len())], &names[dice.below(names.len())]);
            let (first, second) = (entries[a].clone(), entries[b].clone());
            entries[a] = second;
            entries[b] = first;
        }
        _ => {}
    }
}
