//! What the files say in words.

matchmark_core::phrases! {
    /// What the files say in words.
    Words {
        draft(date);
        revision(letter, date);
        kit(serial);
        state_of_draft();
        state_of_revision(letter);
        state_of_kit(letter, kit);
        printed_sheet();
        licensed();
        units();
        bends();
        bend_points();
        holes();
        part(number, mark);
        section(size, around);
        plate(thickness, material);
        end(number, cut);
        set_out(distance, datum);
        from_other_end();
        from_long_end(by);
        from_bend_start(bend);
        from_bend_end(bend);
        outer_surface();
        lines();
        misses();
        countersink(diameter);
        hand_left();
        hand_right();
        hand_either();
        not_for_cutting();
        length(length);
    }
}

/// In English.
pub(crate) static EN: Words = Words {
    draft: "draft of {date}",
    revision: "revision {letter} of {date}",
    kit: "kit {serial}",
    state_of_draft: "DRAFT, NOT FOR CUTTING.",
    state_of_revision: "Revision {letter}, of no pack and of no kit. A later revision or a recall is not shown here: ask for its state before use.",
    state_of_kit: "Kit {kit}, revision {letter}, of no pack. A later revision, a notice or a recall is not shown here: ask for its state before use.",
    printed_sheet: "This file has no code. Check it with the printed sheet of the same part: number, revision and figures must be the same. Measure the first part before you make the next.",
    licensed: "No check here is an approval. Local rules and whoever is licensed to judge the frame come first.",
    units: "Lengths in millimetres, angles in degrees, masses in kilograms.",
    bends: "Bends from end 1. feed: straight before the bend, the first one from the sawn end of the blank. rotate: turn of the bend plane from that of the bend before, right-handed about the way from end 1 to end 2; in a bender that stands still the tube turns the other way. bend: change of direction as finished; set: with springback added.",
    bend_points: "The same bends as points. x, y, z: axes of the tube, the first straight along +x, the index line (clock angle 0) towards +z, right-handed, zero at the end of the blank as sawn. Point 0 and the last one are the ends of the blank; between them stand the corners where the centrelines of two straights meet, with the radius of the centreline. rotate is right-handed about the way from end 1 to end 2.",
    holes: "Tubes: along is measured from the datum named, clock right-handed about the way from end 1 to end 2. Plates: x and y of the face shown on the sheet.",
    part: "part {number}, mark {mark}",
    section: "tube {size}, {around} round the outside",
    plate: "plate {thickness}, {material}",
    end: "end {number}, {cut}",
    set_out: "base line {distance} from {datum}",
    from_other_end: "the furthest point of the other end's cut",
    from_long_end: "the sawn other end, still {by} long",
    from_bend_start: "the tangent mark where bend {bend} starts",
    from_bend_end: "the tangent mark where bend {bend} ends",
    outer_surface: "For the outer surface of the tube: no allowance for the thickness of paper or sheet.",
    lines: "Upper edge: outer line. Marked line below it: relief line, where a square cut must stand.",
    misses: "PART OF THE WALL MISSES ITS TARGET: no line there. Ask before cutting.",
    countersink: "countersink {diameter}",
    hand_left: "LEFT",
    hand_right: "RIGHT",
    hand_either: "either side",
    not_for_cutting: "DRAFT, NOT FOR CUTTING",
    length: "L {length}",
}
.checked();
