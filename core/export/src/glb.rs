//! The whole frame as a model to look at (glTF 2.0, binary): one node and one mesh a part, named by its mark, with its number.
//!
//! Metres, y up and z forward, as the format asks; the root node turns the frame's own axes into those.

use crate::ExportError;
use crate::facts::Subject;
use crate::format::{Entry, Format};
use crate::mesh::{Mesh, of_plate, of_tube};
use crate::words::EN;
use matchmark_core::Stop;
use matchmark_core::geometry::DVec3;
use serde_json::{Value, json};

const NAME: &str = "frame.glb";

/// Codes of the format: kinds of numbers and of buffers.
const F32: u32 = 5126;
const U16: u32 = 5123;
const U32: u32 = 5125;
const VERTICES: u32 = 34962;
const INDICES: u32 = 34963;

/// Most vertices that an index of two bytes can name: the last is kept for other uses.
const MOST_SHORT: usize = 65_535;

pub(crate) const FORMAT: Format = Format {
    id: "glb",
    folder: "model",
    media_type: "model/gltf-binary",
    entries: |_| vec![Entry { name: NAME.to_owned(), about: EN.about_model().to_owned() }],
    write: |subject, _, stop| write(subject, stop),
};

/// The model in the making.
#[derive(Default)]
struct Model {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    meshes: Vec<Value>,
    nodes: Vec<Value>,
}

fn write(subject: &Subject, stop: Stop) -> Result<Vec<u8>, ExportError> {
    let mut model = Model::default();
    model.nodes.push(Value::Null);
    let made = subject.made;
    for part in &made.parts {
        stop.check()?;
        let member = &made.frame.members[part.member];
        let section = made.frame.section(member).size().to_string();
        model.part(subject, &member.id, &section, &of_tube(member, part));
    }
    for placed in &made.frame.plates {
        model.part(subject, &placed.id, &format!("plate {}", placed.plate.thickness), &of_plate(placed));
    }
    Ok(model.finish(subject))
}

impl Model {
    fn part(&mut self, subject: &Subject, id: &str, size: &str, mesh: &Mesh) {
        if mesh.triangles.is_empty() {
            return;
        }
        let metres: Vec<[f32; 3]> = mesh.points.iter().map(|point| narrowed(*point / 1000.0)).collect();
        let normals: Vec<[f32; 3]> = mesh.normals.iter().map(|normal| narrowed(*normal)).collect();
        let bound = |choose: fn(f32, f32) -> f32, start: f32| {
            metres.iter().fold([start; 3], |bound, point| [0, 1, 2].map(|axis| choose(bound[axis], point[axis])))
        };
        let (low, high) = (bound(f32::min, f32::INFINITY), bound(f32::max, f32::NEG_INFINITY));
        let count = metres.len();
        let position = self.vectors(&metres);
        if let Some(accessor) = self.accessors.last_mut() {
            accessor["min"] = json!(low);
            accessor["max"] = json!(high);
        }
        let normal = self.vectors(&normals);
        let indices = self.indices(&mesh.triangles, count);
        let mut extras = json!({"member": id, "part": subject.number(id), "size": size, "hand": subject.hand(id)});
        if !mesh.not_drilled.is_empty() {
            extras["holes_not_shown"] = json!(mesh.not_drilled);
        }
        self.nodes.push(json!({"name": id, "mesh": self.meshes.len(), "extras": extras}));
        self.meshes.push(json!({
            "name": subject.number(id),
            "primitives": [{"attributes": {"POSITION": position, "NORMAL": normal}, "indices": indices, "material": 0}],
        }));
    }

    fn vectors(&mut self, vectors: &[[f32; 3]]) -> usize {
        let bytes: Vec<u8> = vectors.iter().flatten().flat_map(|value| value.to_le_bytes()).collect();
        let view = self.view(&bytes, VERTICES);
        self.accessor(json!({"bufferView": view, "componentType": F32, "count": vectors.len(), "type": "VEC3"}))
    }

    fn indices(&mut self, triangles: &[[u32; 3]], vertices: usize) -> usize {
        let flat = triangles.iter().flatten();
        let (bytes, kind): (Vec<u8>, u32) = if vertices < MOST_SHORT {
            (flat.filter_map(|&at| u16::try_from(at).ok()).flat_map(u16::to_le_bytes).collect(), U16)
        } else {
            (flat.flat_map(|at| at.to_le_bytes()).collect(), U32)
        };
        let view = self.view(&bytes, INDICES);
        self.accessor(
            json!({"bufferView": view, "componentType": kind, "count": 3 * triangles.len(), "type": "SCALAR"}),
        )
    }

    fn view(&mut self, bytes: &[u8], target: u32) -> usize {
        let view = json!({"buffer": 0, "byteOffset": self.bytes.len(), "byteLength": bytes.len(), "target": target});
        self.views.push(view);
        self.bytes.extend(bytes);
        // The next view begins where any kind of number may.
        self.bytes.resize(self.bytes.len().next_multiple_of(4), 0);
        self.views.len() - 1
    }

    fn accessor(&mut self, accessor: Value) -> usize {
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    /// The file: a header and two chunks, each filled up to four bytes.
    fn finish(mut self, subject: &Subject) -> Vec<u8> {
        let facts = subject.facts;
        let children: Vec<usize> = (1..self.nodes.len()).collect();
        // A turn of the axes among themselves: x to z, y to x, z to y.
        self.nodes[0] = json!({"name": facts.design, "rotation": [-0.5, -0.5, -0.5, 0.5], "children": children});
        if children.is_empty() {
            self.nodes[0] = json!({"name": facts.design});
        }
        let extras = json!({
            "title": facts.title(), "revision": facts.revision, "kit": facts.kit, "date": facts.date,
            "design_sha256": facts.design_sha256, "cautions": facts.cautions(),
        });
        let mut document = json!({
            "asset": {"version": "2.0", "generator": "Matchmark", "extras": extras},
            "scene": 0,
            "scenes": [{"name": facts.title(), "nodes": [0]}],
            "nodes": self.nodes,
        });
        if !self.meshes.is_empty() {
            document["meshes"] = json!(self.meshes);
            document["accessors"] = json!(self.accessors);
            document["bufferViews"] = json!(self.views);
            document["buffers"] = json!([{"byteLength": self.bytes.len()}]);
            document["materials"] = json!([{
                "name": "steel",
                "pbrMetallicRoughness": {"baseColorFactor": [0.62, 0.64, 0.67, 1.0], "metallicFactor": 0.4, "roughnessFactor": 0.6},
            }]);
        }
        let mut text = document.to_string().into_bytes();
        text.resize(text.len().next_multiple_of(4), b' ');
        let mut chunks = vec![(*b"JSON", text)];
        if !self.bytes.is_empty() {
            chunks.push((*b"BIN\0", self.bytes));
        }
        let length = |bytes: usize| u32::try_from(bytes).unwrap_or(u32::MAX).to_le_bytes();
        let whole = 12 + chunks.iter().map(|(_, bytes)| 8 + bytes.len()).sum::<usize>();
        let mut file = [*b"glTF", 2_u32.to_le_bytes(), length(whole)].concat();
        for (kind, bytes) in chunks {
            file.extend(length(bytes.len()));
            file.extend(kind);
            file.extend(bytes);
        }
        file
    }
}

#[allow(clippy::cast_possible_truncation, reason = "the format has single precision: 0.0005 mm at a distance of 4 m")]
fn narrowed(vector: DVec3) -> [f32; 3] {
    vector.to_array().map(|value| value as f32)
}
