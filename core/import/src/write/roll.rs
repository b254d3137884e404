//! How a rectangular tube is turned about its line.

use crate::answers::Size;
use crate::curve::Tube;
use glam::DVec3;

/// Cosine of 15 degrees: a tube that leans less from the vertical has its index line forward, others up.
const UPRIGHT: f64 = 0.965_925_826_289_068_3;
/// Turns below this are none, degrees.
const LEAST: f64 = 0.01;

/// Where the index line of a tube without roll lies.
fn index_line(along: DVec3) -> DVec3 {
    let wanted = if along.z.abs() > UPRIGHT { DVec3::X } else { DVec3::Z };
    wanted.reject_from(along).normalize_or_zero()
}

fn along(tube: &Tube) -> Option<DVec3> {
    (tube.points.get(1)? - tube.points[0]).try_normalize()
}

/// The tube with that side as its height which stands up most nearly.
pub fn stood_up(mut tube: Tube) -> Tube {
    let (Some(along), Some(height), Some(Size::Rect { width, height: tall, wall, corner })) =
        (along(&tube), tube.height, tube.size)
    else {
        return tube;
    };
    let (index, other) = (index_line(along), along.cross(height));
    if index.dot(other).abs() > index.dot(height).abs() + 1e-9 {
        tube.size = Some(Size::Rect { width: tall, height: width, wall, corner });
        tube.height = Some(other);
    }
    // Either side of the height can carry the index line.
    tube.height = tube.height.map(|height| if height.dot(index) < 0.0 { -height } else { height });
    tube
}

/// Degrees from the index line without roll to the tube's height, right-handed about its direction; `None` where it is none.
pub fn roll(tube: &Tube) -> Option<f64> {
    let (along, height) = (along(tube)?, tube.height?);
    let index = index_line(along);
    let roll = along.dot(index.cross(height)).atan2(index.dot(height)).to_degrees();
    (roll.abs() > LEAST).then(|| (roll * 1e4).round() / 1e4)
}
