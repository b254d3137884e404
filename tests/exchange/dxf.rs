//! A small writer of drawings, for tests alone.

/// A drawing as it grows.
pub struct Drawing {
    header: String,
    blocks: String,
    entities: String,
}

/// Pairs of group codes and values as text.
fn pairs(pairs: &[(i32, String)]) -> String {
    pairs.iter().map(|(code, value)| format!("{code:3}\n{value}\n")).collect()
}

fn place(code: i32, at: [f64; 3]) -> [(i32, String); 3] {
    [0, 1, 2].map(|axis| (code + 10 * axis, at[axis as usize].to_string()))
}

impl Drawing {
    pub fn new(insunits: i32) -> Self {
        let header =
            pairs(&[(9, "$ACADVER".into()), (1, "AC1015".into()), (9, "$INSUNITS".into()), (70, insunits.to_string())]);
        Self { header, blocks: String::new(), entities: String::new() }
    }

    pub fn entity(&mut self, kind: &str, layer: &str, values: &[(i32, String)]) -> &mut Self {
        self.entities += &entity(kind, layer, values);
        self
    }

    pub fn line(&mut self, layer: &str, from: [f64; 3], to: [f64; 3]) -> &mut Self {
        self.entity("LINE", layer, &[place(10, from), place(11, to)].concat())
    }

    /// An arc in the plane z = 0 of the drawing, degrees.
    pub fn arc(&mut self, layer: &str, centre: [f64; 3], radius: f64, from: f64, to: f64) -> &mut Self {
        let own = [(40, radius.to_string()), (50, from.to_string()), (51, to.to_string())];
        self.entity("ARC", layer, &[&place(10, centre)[..], &own].concat())
    }

    pub fn polyline(&mut self, layer: &str, points: &[[f64; 3]]) -> &mut Self {
        self.entity("POLYLINE", layer, &[(66, "1".into()), (70, "8".into())]);
        for point in points {
            self.entity("VERTEX", layer, &[&place(10, *point)[..], &[(70, "32".into())]].concat());
        }
        self.entity("SEQEND", layer, &[])
    }

    pub fn insert(&mut self, block: &str, values: &[(i32, String)]) -> &mut Self {
        self.entity("INSERT", "0", &[&[(2, block.to_owned())], values].concat())
    }

    /// A block that holds what another drawing holds.
    pub fn block(&mut self, name: &str, inside: &Self) -> &mut Self {
        self.blocks += &pairs(&[(0, "BLOCK".into()), (2, name.into()), (70, "0".into())]);
        self.blocks += &pairs(&place(10, [0.0; 3]));
        self.blocks += &inside.entities;
        self.blocks += &pairs(&[(0, "ENDBLK".into())]);
        self
    }

    pub fn bytes(&self) -> Vec<u8> {
        let section = |name: &str, inside: &str| {
            pairs(&[(0, "SECTION".into()), (2, name.into())]) + inside + &pairs(&[(0, "ENDSEC".into())])
        };
        let text =
            section("HEADER", &self.header) + &section("BLOCKS", &self.blocks) + &section("ENTITIES", &self.entities);
        (text + &pairs(&[(0, "EOF".into())])).into_bytes()
    }
}

fn entity(kind: &str, layer: &str, values: &[(i32, String)]) -> String {
    pairs(&[&[(0, kind.to_owned()), (8, layer.to_owned())], values].concat())
}
