//! Who guesses codes is limited, never the one whose code it is; and one caller is one however it writes its header.

use crate::fixtures::two_kits_on;
use crate::server::{Answer, Server};
use serde_json::json;

const PROXY: [&str; 2] = ["--trusted-proxies", "127.0.0.1"];

fn sign_in(server: &Server, from: &str, serial: &str, code: &str) -> Answer {
    let body = json!({"serial": serial, "access_code": code}).to_string();
    server.send("POST", "/v1/sign-in", "", &[("x-forwarded-for", from)], Some(&body))
}

#[test]
fn wrong_codes_never_lock_the_builder_out() {
    let kits = two_kits_on(Server::start_with(&PROXY));
    let made = kits.server.send("POST", "/v1/kits/K-1/access-code", &kits.support, &[], None).expect(201).json();
    let code = made["access_code"].as_str().unwrap();
    let guesser = |last: u32| format!("2001:db8:7:7::{last:x}");
    // Each guess from another address of one network.
    for number in 1..=20 {
        sign_in(&kits.server, &guesser(number), "K-1", "0000-0000-0000-0000").problem(401, "sign-in-refused");
    }
    let refused = sign_in(&kits.server, &guesser(99), "K-1", code);
    let wait: i64 = refused.header("retry-after").parse().unwrap();
    assert!((1..=901).contains(&wait), "{wait}");
    refused.problem(429, "too-many-attempts");
    sign_in(&kits.server, &guesser(98), "K-2", "0000-0000-0000-0000").problem(429, "too-many-attempts");
    // The right code from elsewhere opens at once, on the page as well.
    sign_in(&kits.server, "2001:db8:7:8::1", "K-1", code).expect(201);
    sign_in(&kits.server, "203.0.113.5", "K-1", code).expect(201);
    let form = format!("serial=K-1&access_code={code}");
    let headers = [
        ("content-type", "application/x-www-form-urlencoded"),
        ("sec-fetch-site", "same-origin"),
        ("x-forwarded-for", "203.0.113.6"),
    ];
    kits.server.send("POST", "/sign-in", "", &headers, Some(&form)).expect(303);
    // All processes count together, and a new one goes on where they are.
    let again = Server::start_in_with(kits.server.stop(), &PROXY);
    sign_in(&again, &guesser(99), "K-1", code).problem(429, "too-many-attempts");
    sign_in(&again, "2001:db8:7:8::1", "K-1", code).expect(201);
}

#[test]
fn a_right_code_does_not_forgive_the_guesses_of_its_address() {
    let kits = two_kits_on(Server::start_with(&PROXY));
    let made = kits.server.send("POST", "/v1/kits/K-1/access-code", &kits.support, &[], None).expect(201).json();
    let code = made["access_code"].as_str().unwrap();
    let guesser = "198.51.100.9";
    for number in 0..20 {
        sign_in(&kits.server, guesser, "K-2", &format!("0000-0000-0000-{number:04}")).problem(401, "sign-in-refused");
        if number == 10 {
            sign_in(&kits.server, guesser, "K-1", code).expect(201);
        }
    }
    sign_in(&kits.server, guesser, "K-2", "0000-0000-0000-0000").problem(429, "too-many-attempts");
}

#[test]
fn a_caller_is_one_however_it_writes_its_header() {
    let server = Server::start_with(&["--requests-per-token", "2"]);
    let token = server.publisher();
    let get = |value: String| server.send("GET", "/v1/designs", "", &[("authorization", &value)], None);
    // The first comes from the allowance of the address and counts for the token as well.
    get(format!("Bearer {token}")).expect(200);
    let last = get(format!("bearer   {token}")).expect(200);
    assert_eq!(last.header("ratelimit-policy"), "\"default\";q=2;w=60");
    assert!(last.header("ratelimit").starts_with("\"default\";r=0;"), "{}", last.header("ratelimit"));
    for value in [format!("Bearer {token}"), format!("beareR  {token} "), format!("BEARER {token}")] {
        get(value).problem(429, "too-many-requests");
    }
}

#[test]
fn the_tokens_of_one_kit_share_an_allowance() {
    let kits = two_kits_on(Server::start_with(&["--requests-per-token", "30"]));
    let other = crate::fixtures::builder_token(&kits.server, &kits.publisher, "K-1");
    let get = |token: &str| kits.server.get("/v1/kits/K-1", token);
    let mut opened = 0;
    while get(if opened % 2 == 0 { &kits.first } else { &other }).status == 200 {
        opened += 1;
        assert!(opened < 200, "there is no end to it");
    }
    get(&kits.first).problem(429, "too-many-requests");
    get(&other).problem(429, "too-many-requests");
    kits.server.get("/v1/kits/K-2", &kits.second).expect(200);
}
