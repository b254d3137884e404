//! Forms: whose they are, how often they count, and what becomes of what was filled in.

use crate::browser::Browser;
use crate::fixtures::two_kits;

#[test]
fn a_form_counts_only_when_it_comes_from_a_page_of_ours() {
    let kits = two_kits();
    let browser = Browser::with_token(&kits.server, &kits.support);
    let action = "/support/K-1/notes";
    let hidden = browser.get("/support?q=K-1").expect(200).hidden(action);
    let mark = hidden.iter().find(|(name, _)| name == "mark").unwrap().1.clone();
    let send = |headers: &[(&str, &str)], mark: &str| {
        browser.send_with(action, headers, &[("mark", mark), ("text", "Sent from somewhere.")])
    };
    let here = format!("http://{}", kits.server.address());
    let refused: [&[(&str, &str)]; 7] = [
        &[],
        &[("sec-fetch-site", "cross-site")],
        &[("sec-fetch-site", "same-site")],
        &[("sec-fetch-site", "none")],
        &[("origin", "http://elsewhere.example")],
        &[("origin", "null")],
        // What says more counts.
        &[("origin", &here), ("sec-fetch-site", "cross-site")],
    ];
    for headers in refused {
        send(headers, &mark).expect(403).says("did not come from a page of this service");
    }
    send(&[("sec-fetch-site", "same-origin")], "0").expect(403).says("belongs to another session");
    let other = Browser::with_token(&kits.server, &kits.publisher);
    let theirs = other.get("/support?q=K-1").hidden(action).into_iter().find(|(name, _)| name == "mark").unwrap().1;
    send(&[("sec-fetch-site", "same-origin")], &theirs).expect(403);
    // Nor is anybody signed in from elsewhere.
    let stranger = Browser::at(&kits.server);
    stranger
        .send_with("/sign-in/token", &[("sec-fetch-site", "cross-site")], &[("token", &kits.publisher)])
        .expect(403);
    let notes = || kits.server.get("/v1/kits/K-1/notes", &kits.support).json()["notes"].as_array().unwrap().len();
    assert_eq!(notes(), 0);
    // A browser that says only its origin, as one does without TLS.
    send(&[("origin", &here)], &mark).expect(303);
    send(&[("sec-fetch-site", "same-origin")], &mark).expect(303);
    assert_eq!(notes(), 2);
    // Reading changes nothing, whatever it is called.
    for path in ["/sign-out", "/kits/K-1/card", action] {
        browser.get(path).expect(405);
    }
}

#[test]
fn a_form_sent_twice_has_one_effect() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let action = "/support/K-1/notes";
    let hidden = browser.get("/support?q=K-1").hidden(action);
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.push(("text", "Rang about the scale bars."));
    for _ in 0..3 {
        browser.send_form(action, &fields).expect(303);
    }
    let notes = kits.server.get("/v1/kits/K-1/notes", &kits.support).json();
    assert_eq!(notes["notes"].as_array().unwrap().len(), 1);

    let hidden = browser.get("/kits/new").hidden("/kits/new");
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.extend([("serial", "K-7"), ("design", "frame"), ("revision", "b"), ("choices", ""), ("order_number", "")]);
    fields.extend([("customer-name", "O. Hahn"), ("customer-email", "hahn@example.com")]);
    for _ in 0..2 {
        assert_eq!(browser.send_form("/kits/new", &fields).expect(303).leads_to(), "/kits/K-7");
    }
    let issue = browser.get("/kits/K-7/packs").hidden("/kits/K-7/packs");
    let issue: Vec<(&str, &str)> = issue.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    for _ in 0..2 {
        browser.send_form("/kits/K-7/packs", &issue).expect(303);
    }
    let packs = kits.server.get("/v1/kits/K-7/packs", &kits.support).json();
    assert_eq!(packs["packs"].as_array().unwrap().len(), 1);
}

#[test]
fn what_was_filled_in_stays_when_it_will_not_do() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let fields = [
        ("serial", "k 7"),
        ("design", "frame"),
        ("revision", "B"),
        ("choices", ""),
        ("order_number", "2026-\"9\""),
        ("customer-name", "<b>Ine's & co</b>"),
        ("customer-email", "nobody"),
    ];
    let again = browser.fill_in("/kits/new", "/kits/new", &fields).expect(422);
    again
        .says("role=\"alert\"")
        .says("href=\"#serial\"")
        .says("href=\"#customer-email\"")
        .says("value=\"k 7\"")
        .says("value=\"2026-&quot;9&quot;\"")
        .says("&lt;b&gt;Ine's &amp; co&lt;/b&gt;")
        .says_nothing_of("<b>Ine");
    let file = "serial,design,revision,customer_name,customer_email\nK-8,frame,A,A,a@example.com\nK-1,frame,Y,B,b\n";
    let again = browser.fill_in("/kits/import", "/kits/import", &[("file", file)]).expect(422);
    let again =
        again.says("No kit was registered").says("Line 3, serial").says("Line 3, revision").says("K-8,frame,A,A");
    assert_eq!(again.text.matches("Line 2").count(), 0);
    let mended = file.lines().take(2).collect::<Vec<_>>().join("\r\n");
    browser.fill_in("/kits/import", "/kits/import", &[("file", &mended)]).expect(200).says("1 kit registered");
    kits.server.get("/v1/kits/K-8", &kits.support).expect(200);
    let again = browser.fill_in("/support?q=K-1", "/support/K-1/notes", &[("text", "  ")]).expect(422);
    again.says("Say it in 1 to 2000 characters");
}
