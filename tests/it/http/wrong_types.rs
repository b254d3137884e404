//! What a body says wrongly is told in words of JSON, not in those of the program.

use crate::fixtures::two_kits;

#[test]
fn a_value_of_the_wrong_type_is_told_in_words_of_json() {
    let kits = two_kits();
    for (path, body, pointer, said) in [
        ("/v1/kits/K-1/packs", "[]", "", "Send a JSON object, names and values in braces, and not a list."),
        ("/v1/kits/K-1/packs", "\"a4\"", "", "Give an object, and not the text \"a4\""),
        ("/v1/kits/K-1/packs", "7", "", "Give an object, and not the number `7`"),
        (
            "/v1/kits/K-1/packs",
            "{\"paper_thickness\": \"thin\"}",
            "/paper_thickness",
            "Give a number, and not the text",
        ),
        ("/v1/kits/K-1/packs", "{\"only_changes\": 1}", "/only_changes", "Give true or false, and not the number `1`"),
        ("/v1/kits/K-1/packs", "{\"check_bars\": 1.5}", "/check_bars", "Give an object, and not the number `1.5`"),
        ("/v1/kits/K-1/packs", "{\"paper\": 5}", "/paper", "Write text here."),
        ("/v1/kits/K-1/packs", "{\"hands\": true}", "/hands", "Write text here."),
        ("/v1/kits/K-1/packs", "{\"paper\": [\"a4\"]}", "/paper", "Write text here."),
        ("/v1/kits/K-1/measurements", "null", "", "Give an object, and not null"),
        ("/v1/kits/K-1/measurements", "{\"height\": {}}", "/height", "Give a number, and not an object"),
        ("/v1/kits/K-1/notes", "{\"text\": true}", "/text", "Give text, and not `true`"),
    ] {
        let answer = kits.server.send("POST", path, &kits.publisher, &[], Some(body));
        let problem = answer.problem(422, "invalid-request");
        let fault = &problem["errors"][0];
        assert_eq!(fault["pointer"], pointer, "{body}: {problem}");
        assert!(fault["detail"].as_str().unwrap().starts_with(said), "{body}: {problem}");
        // The id of the request is random, and may hold any of these.
        let text = format!("{}{fault}", problem["detail"]);
        assert!(!text.contains("struct") && !text.contains("f64") && !text.contains("not JSON"), "{text}");
    }
}
