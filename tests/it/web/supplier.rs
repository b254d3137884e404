//! What the supplier does on pages: publishing and what follows.

use crate::browser::Browser;
use crate::fixtures::{another, create_design, frame, put_draft, two_kits};
use crate::server::Server;

#[test]
fn a_publisher_sees_whom_a_draft_touches_before_it_is_published() {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(908));
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let page = browser.get("/designs/frame/publish").expect(200);
    page.says("2 kits affected").says("K-1").says("K-2").says("to replace");
    let without = browser.fill_in(
        "/designs/frame/publish",
        "/designs/frame/publish",
        &[("change_note", "Longer."), ("class", "")],
    );
    without.expect(422).says("href=\"#class\"").says("Longer.");
    // Someone writes the draft anew while the form is open.
    let hidden = browser.get("/designs/frame/publish").hidden("/designs/frame/publish");
    put_draft(&kits.server, &kits.publisher, "frame", &frame(912));
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.extend([("change_note", "Longer."), ("class", "mandatory")]);
    browser.send_form("/designs/frame/publish", &fields).expect(422).says("no longer the one");
    let done = browser.fill_in(
        "/designs/frame/publish",
        "/designs/frame/publish",
        &[("change_note", "Longer."), ("class", "mandatory")],
    );
    assert_eq!(done.expect(303).leads_to(), "/designs/frame/revisions/C");
    browser.get("/designs/frame").expect(200).says("Revision C").says("published").says("superseded");

    let revision = "/designs/frame/revisions/C";
    let withdrawal = format!("{revision}/withdrawal");
    browser.fill_in(revision, &withdrawal, &[("reason", "")]).expect(422);
    browser.fill_in(revision, &withdrawal, &[("reason", "Too long.")]).expect(303);
    browser.get(revision).says("withdrawn");
    browser.fill_in(revision, &format!("{revision}/reinstatement"), &[("reason", "It is not.")]).expect(303);
    let jobs = format!("{revision}/jobs");
    let job = browser.fill_in(revision, &jobs, &[]).expect(303);
    assert_eq!(job.leads_to(), "/jobs/1");
    browser.get("/jobs/1").expect(200).says("Job 1");
    browser.get("/jobs").expect(200).says("Job 1");

    // Support reads all of it and changes none.
    let mut support = Browser::with_token(&kits.server, &kits.support);
    support.get(revision).expect(200).says_nothing_of("Recall revision");
    support.get("/designs/frame/publish").expect(403);
    support.get("/kits/new").expect(403);
    let mark = support.get(revision).hidden("/sign-out");
    let fields: Vec<(&str, &str)> =
        mark.iter().map(|(name, value)| (name.as_str(), value.as_str())).chain([("reason", "x")]).collect();
    support.send_form(&withdrawal, &fields).expect(403);
}

#[test]
fn what_is_published_was_seen_by_a_second_person() {
    let server = Server::start_with(&["--second-approver", "true"]);
    let token = server.publisher();
    create_design(&server, &token, "frame");
    put_draft(&server, &token, "frame", &frame(900));
    let mut author = Browser::with_token(&server, &token);
    let mut second = Browser::with_token(&server, &another(&server));
    let (design, publish) = ("/designs/frame", "/designs/frame/publish");
    author.get(publish).expect(200).says("Freeze the draft. Then somebody").says_nothing_of("change_note");
    author.get(design).says("It can be changed").says_nothing_of("/draft/thaw");
    author.fill_in(design, "/designs/frame/draft/freeze", &[]).expect(303);
    author.get(design).expect(200).says("Frozen for review").says("by you").says_nothing_of("/draft/freeze");
    author.get(publish).says("somebody else has to publish it").says_nothing_of("change_note");
    second.fill_in(design, "/designs/frame/draft/thaw", &[]).expect(303);
    author.fill_in(design, "/designs/frame/draft/freeze", &[]).expect(303);
    let done = second.fill_in(publish, publish, &[("change_note", "First issue.")]).expect(303);
    assert_eq!(done.leads_to(), "/designs/frame/revisions/A");
    author.get(design).says("It can be changed");
}

#[test]
fn the_preview_says_how_many_kits_there_are_and_leads_to_all_of_them() {
    let kits = two_kits();
    let mut file = "serial,design,revision,customer_name,customer_email\n".to_owned();
    for number in 1..=104 {
        file.push_str(&format!("M-{number:03},frame,A,A. Builder,a@example.com\n"));
    }
    let headers = [("content-type", "text/csv")];
    kits.server.send("POST", "/v1/kit-imports", &kits.publisher, &headers, Some(&file)).expect(201);
    put_draft(&kits.server, &kits.publisher, "frame", &frame(908));
    let browser = Browser::with_token(&kits.server, &kits.publisher);
    let page = browser.get("/designs/frame/publish").expect(200);
    let page =
        page.says("106 kits affected").says("106 in all").says("M-099").says_nothing_of("M-100").says("and 5 more.");
    let place = "/kits?design=frame&amp;revision=A&amp;choices=%7B%7D";
    page.says(&format!("<a href=\"{place}\">Show all 105</a>"));
    // The list goes on for as long as there are kits.
    let (mut place, mut found) = (place.replace("&amp;", "&"), 0);
    for _ in 0..5 {
        let page = browser.get(&place).expect(200).says_nothing_of("K-2<");
        found += page.text.matches("<a class=\"mono\" href=\"/kits/").count();
        let Some((_, next)) = page.text.split_once("rel=\"next\" href=\"") else { break };
        place = next.split('"').next().unwrap().replace("&amp;", "&");
    }
    assert_eq!(found, 105);
    let listed = kits.server.get("/v1/kits?design=frame&choices=%7B%22a%22%3A%22b%22%7D", &kits.support).json();
    assert_eq!(listed["kits"], serde_json::json!([]));
    kits.server.get("/v1/kits?choices=no", &kits.support).problem(422, "invalid-request");
}
