//! What columns can mean, and the words for it in several languages.

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meaning {
    /// Name of a point.
    Point,
    /// Name of a member.
    Member,
    /// Name of a point or member, by the rest of the table.
    Name,
    Section,
    Material,
    /// First and last point of a member.
    From,
    To,
    /// All points of a member, in one cell.
    Path,
    /// Place of a row among those of its member.
    Order,
    X,
    Y,
    Z,
    X1,
    Y1,
    Z1,
    X2,
    Y2,
    Z2,
    Od,
    Wall,
    Width,
    Height,
    Corner,
    Radius,
    /// Words for people.
    Note,
}

use Meaning::{
    Corner, From, Height, Material, Member, Name, Note, Od, Order, Path, Point, Radius, Section, To, Wall, Width, X,
    X1, X2, Y, Y1, Y2, Z, Z1, Z2,
};

/// The word by which an answer names a meaning.
const NAMED: [(&str, Meaning); 25] = [
    ("point", Point),
    ("member", Member),
    ("name", Name),
    ("section", Section),
    ("material", Material),
    ("from", From),
    ("to", To),
    ("path", Path),
    ("order", Order),
    ("x", X),
    ("y", Y),
    ("z", Z),
    ("x1", X1),
    ("y1", Y1),
    ("z1", Z1),
    ("x2", X2),
    ("y2", Y2),
    ("z2", Z2),
    ("od", Od),
    ("wall", Wall),
    ("width", Width),
    ("height", Height),
    ("corner", Corner),
    ("radius", Radius),
    ("note", Note),
];

/// Words of headers, in lower case, without units and signs. Common practice in English, German, French, Italian and Spanish.
const WORDS: [(Meaning, &[&str]); 17] = [
    (
        Point,
        &[
            "point",
            "points id",
            "point id",
            "pt",
            "node",
            "node id",
            "vertex",
            "punkt",
            "knoten",
            "noeud",
            "nœud",
            "nodo",
            "punto",
            "point name",
            "node name",
        ],
    ),
    (
        Member,
        &[
            "member",
            "member id",
            "tube",
            "tube id",
            "part",
            "part no",
            "part name",
            "piece",
            "bar",
            "rod",
            "element",
            "stab",
            "rohr",
            "bauteil",
            "teil",
            "barre",
            "pièce",
            "piece name",
            "élément",
            "tubo",
            "pezzo",
            "pieza",
            "barra",
            "elemento",
            "asta",
            "member name",
            "tube name",
        ],
    ),
    (Name, &["name", "id", "nom", "nome", "nombre", "bezeichnung", "designation", "désignation"]),
    (
        Section,
        &[
            "section",
            "profile",
            "profil",
            "querschnitt",
            "sezione",
            "profilo",
            "sección",
            "seccion",
            "perfil",
            "layer",
            "tube section",
            "cross section",
        ],
    ),
    (
        Material,
        &["material", "grade", "werkstoff", "matériau", "materiau", "matière", "materiale", "steel", "stahl", "acier"],
    ),
    (
        From,
        &[
            "from",
            "start",
            "start point",
            "start node",
            "from point",
            "from node",
            "begin",
            "von",
            "anfang",
            "startpunkt",
            "de",
            "début",
            "debut",
            "da",
            "desde",
            "inizio",
            "point 1",
            "node 1",
            "p1",
            "point a",
        ],
    ),
    (
        To,
        &[
            "to",
            "end",
            "end point",
            "end node",
            "to point",
            "to node",
            "bis",
            "nach",
            "ende",
            "endpunkt",
            "vers",
            "à",
            "fin",
            "a",
            "hasta",
            "fine",
            "point 2",
            "node 2",
            "p2",
            "point b",
        ],
    ),
    (
        Path,
        &[
            "path",
            "points",
            "nodes",
            "via",
            "punkte",
            "knotenfolge",
            "weg",
            "chemin",
            "parcours",
            "percorso",
            "camino",
            "polyline",
        ],
    ),
    (
        Order,
        &[
            "order",
            "no",
            "nr",
            "n°",
            "nº",
            "num",
            "seq",
            "sequence",
            "index",
            "corner",
            "bend",
            "bend no",
            "corner no",
            "pos",
            "reihenfolge",
            "ecke",
            "folge",
            "ordre",
            "coin",
            "ordine",
            "orden",
            "#",
        ],
    ),
    (
        Od,
        &[
            "od",
            "o d",
            "ø",
            "⌀",
            "dia",
            "diam",
            "diameter",
            "outside diameter",
            "outer diameter",
            "tube od",
            "ø ext",
            "durchmesser",
            "aussendurchmesser",
            "außendurchmesser",
            "da",
            "diamètre",
            "diametre",
            "diametro",
            "diámetro",
            "d",
        ],
    ),
    (
        Wall,
        &[
            "wall",
            "wt",
            "w t",
            "thk",
            "thickness",
            "wall thickness",
            "wandstärke",
            "wandstaerke",
            "wanddicke",
            "wand",
            "ép",
            "ep",
            "épaisseur",
            "epaisseur",
            "spessore",
            "espesor",
            "t",
            "s",
        ],
    ),
    (Width, &["width", "breite", "largeur", "larghezza", "ancho", "b"]),
    (Height, &["height", "höhe", "hoehe", "hauteur", "altezza", "alto", "h"]),
    (Corner, &["corner radius", "outer corner radius", "eckradius", "rayon de coin"]),
    (
        Radius,
        &[
            "radius",
            "r",
            "clr",
            "bend radius",
            "centreline radius",
            "centerline radius",
            "biegeradius",
            "rayon",
            "rayon de cintrage",
            "raggio",
            "radio",
            "rad",
        ],
    ),
    (
        Note,
        &[
            "note",
            "notes",
            "remark",
            "remarks",
            "comment",
            "comments",
            "description",
            "bemerkung",
            "anmerkung",
            "kommentar",
            "remarque",
            "commentaire",
            "nota",
            "note libre",
        ],
    ),
    (Path, &["point list", "node list"]),
];

/// The meaning that an answer names.
pub fn of_answer(word: &str) -> Option<Meaning> {
    let word = word.trim().to_lowercase();
    NAMED.iter().find(|(name, _)| *name == word).map(|(_, meaning)| *meaning)
}

/// All words that an answer can use.
pub fn answers() -> String {
    NAMED.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ")
}

/// The meaning of a header's words, without its unit.
pub fn of_header(words: &str) -> Option<Meaning> {
    let plain: String =
        words.to_lowercase().chars().map(|letter| if "._-:/".contains(letter) { ' ' } else { letter }).collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    let squeezed = plain.replace(' ', "");
    if let Some(axis) = axis(&squeezed) {
        return Some(axis);
    }
    WORDS
        .iter()
        .find(|(_, words)| words.contains(&plain.as_str()) || words.contains(&squeezed.as_str()))
        .map(|(meaning, _)| *meaning)
}

/// `x`, `y1`, `xstart`, `startx`, `x from`, `zb` and the like.
fn axis(word: &str) -> Option<Meaning> {
    let axis = |letter: &str| ["x", "y", "z"].iter().position(|axis| *axis == letter);
    let with = |parts: &[&str]| {
        parts.iter().find_map(|part| axis(word.strip_suffix(part)?).or_else(|| axis(word.strip_prefix(part)?)))
    };
    if let Some(index) = axis(word).or_else(|| with(&["coord", "coordinate", "pos", "koordinate"])) {
        return Some([X, Y, Z][index]);
    }
    if let Some(index) = with(&["1", "start", "from", "a", "begin", "von", "anfang", "de", "début", "i"]) {
        return Some([X1, Y1, Z1][index]);
    }
    with(&["2", "end", "to", "b", "bis", "ende", "vers", "fin", "j"]).map(|index| [X2, Y2, Z2][index])
}

#[cfg(test)]
mod tests {
    use super::{Meaning, of_answer, of_header};

    #[test]
    fn headers_are_known_in_the_words_of_people() {
        for (words, meaning) in [
            ("X", Meaning::X),
            ("x_1", Meaning::X1),
            ("Z end", Meaning::Z2),
            ("Wandstärke", Meaning::Wall),
            ("bend radius", Meaning::Radius),
            ("O.D.", Meaning::Od),
            ("Von", Meaning::From),
        ] {
            assert_eq!(of_header(words), Some(meaning), "{words}");
        }
        assert_eq!(of_header("price"), None);
        assert_eq!(of_answer("od"), Some(Meaning::Od));
    }
}
