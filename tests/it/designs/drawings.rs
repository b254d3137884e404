//! Views of the frame over HTTP. What hides what is checked by the tests of the engine and against a solid-modelling kernel.

use crate::fixtures::{create_design, frame, publish_document};
use crate::server::Server;

/// Ends of all straight steps of the paths of an SVG drawing.
fn points(svg: &str) -> Vec<[f64; 2]> {
    let paths = svg.split("<path d=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let numbers = |path: &str| {
        path.split(['M', 'L', 'C', 'Z'])
            .flat_map(|step| {
                let pair: Vec<f64> = step.split_whitespace().map(|figure| figure.parse().unwrap()).collect();
                pair.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect::<Vec<_>>()
            })
            .collect::<Vec<_>>()
    };
    paths.flat_map(numbers).collect()
}

#[test]
fn a_revision_is_drawn_from_any_side_and_never_otherwise_than_before() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    let drawn = |query: &str| {
        let answer = server.get(&format!("/v1/designs/frame/revisions/A/drawing.svg{query}"), &token).expect(200);
        assert_eq!(answer.header("content-type"), "image/svg+xml");
        String::from_utf8(answer.body).unwrap()
    };
    let pictorial = drawn("");
    assert_eq!(pictorial, drawn("?view=pictorial"));
    assert_eq!(pictorial, drawn("?view=1,1,1&labels=false"));
    assert!(pictorial.contains("<title>Test Frame, revision A</title>") && pictorial.contains("scale 1:"));
    let front = drawn("?view=front");
    assert_ne!(front, drawn("?view=rear"));
    assert_ne!(front, pictorial);

    let one = drawn("?view=front&members=post.L");
    assert!(points(&one).len() < points(&front).len());
    assert!(drawn("?view=front&members=post.L&labels=true").len() > one.len());
    // The post, 900 long, stands upright at its scale.
    let scale: f64 = one.split("scale 1:").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    let height = points(&one).iter().map(|point| point[1]).fold(f64::MIN, f64::max)
        - points(&one).iter().map(|point| point[1]).fold(f64::MAX, f64::min);
    assert!(height * scale > 850.0, "{height} at 1:{scale}");
}

#[test]
fn what_cannot_be_drawn_is_refused_by_name() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    let get = |query: &str| server.get(&format!("/v1/designs/frame/revisions/A/drawing.svg?{query}"), &token);
    get("view=inside").problem(400, "bad-request");
    get("view=0,0,0").problem(400, "bad-request");
    get("side=left").problem(400, "bad-request");
    get("members=post.L,none").problem(404, "unknown-member");
}
