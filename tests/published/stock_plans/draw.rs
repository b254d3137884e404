//! Requests drawn by number, the same each time.

use matchmark_core::stock::{Request, Stock, WantedPart};
use std::collections::BTreeMap;

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014; constants from memory).
pub struct Draw(pub u64);

impl Draw {
    /// A whole number from `least` to `most`.
    pub fn whole(&mut self, least: u64, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        least + (mixed ^ (mixed >> 31)) % (most - least + 1)
    }

    /// One of a list.
    pub fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.whole(0, list.len() as u64 - 1) as usize]
    }

    /// Parts and bars of a kit: one to three lengths of stock, saw and trim as in a workshop.
    pub fn kit(&mut self, parts: u64) -> Request {
        let mut lengths = Vec::new();
        while (lengths.len() as u64) < parts {
            let tenths = if self.whole(0, 99) < 85 { self.whole(1_500, 24_000) } else { self.whole(20_000, 38_000) };
            let some = self.of(&[1, 1, 2, 2, 4]).min(parts - lengths.len() as u64);
            lengths.extend((0..some).map(|_| tenths as f64 / 10.0));
        }
        let priced = self.whole(0, 1) == 1;
        let mut bars = vec![6_000.0, 7_500.0, 6_096.0, 7_315.0];
        for _ in 0..self.whole(1, 3) {
            bars.remove(self.whole(0, bars.len() as u64 - 1) as usize);
        }
        let stock = bars
            .into_iter()
            .map(|length| {
                let price = priced.then(|| (length * self.whole(62, 78) as f64 / 100.0).round() / 100.0);
                Stock { length, price, count: None }
            })
            .collect();
        request(self.of(&[1.5, 2.0, 2.5, 3.0]), self.of(&[0.0, 5.0, 10.0]), stock, &lengths)
    }
}

/// A request for these lengths.
pub fn request(kerf: f64, trim: f64, stock: Vec<Stock>, lengths: &[f64]) -> Request {
    let mut counts: BTreeMap<u64, u32> = BTreeMap::new();
    for length in lengths {
        *counts.entry((length * 10_000.0).round() as u64).or_default() += 1;
    }
    let parts = counts
        .into_iter()
        .enumerate()
        .map(|(index, (length, count))| WantedPart {
            id: format!("P{index}"),
            length: length as f64 / 10_000.0,
            count,
            from: None,
            to: None,
        })
        .collect();
    Request { kerf, trim, section: None, min_remnant: None, bundle: None, stock, parts, time_limit_s: None }
}

/// Bins of a bin packing problem: one length of bar, no saw.
pub fn bins(capacity: f64, sizes: &[f64]) -> Request {
    request(0.0, 0.0, vec![Stock { length: capacity, price: Some(1.0), count: None }], sizes)
}
