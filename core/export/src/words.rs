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
        about_holes();
        about_checks();
        about_stock();
        about_plates();
        about_cut_sheet();
        about_mass();
        about_welds();
        about_parts_list();
        about_bends();
        about_bend_points();
        about_model();
        about_workbook();
        about_labels();
        about_assembly();
        about_bundle();
        mass_without_weld();
        centre_forward();
        centre_left();
        centre_up();
        surface_to_paint();
        length_of_welds();
        furthest_of_end_1();
        mark_of_bend_end(bend);
        kit_differs_by();
        design_sha256();
        unrolled(number, mark, end);
        as_solid(number, mark);
        label_sizes(width, height);
        labels_of_a_sheet(count, most);
        label_too_low();
        label_too_narrow_for_number(number);
        label_too_narrow();
        label_code_too_long();
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
    bends: "Bends from end 1. feed: straight before the bend, the first one from the sawn end of the blank. rotate: turn of the bend plane from that of the bend before, right-handed about the way from end 1 to end 2; in a bender that stands still the tube turns the other way. bend: change of direction as finished; set: with springback added. A part that is there already, because something was measured on it, is not among them: nothing of it is to be bent.",
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
    about_holes: "hole positions, one row a hole in a wall",
    about_checks: "dimensions to check before and after welding",
    about_stock: "stock plan, one row a cut in the order of sawing",
    about_plates: "plates, one row each",
    about_cut_sheet: "cut sheet, one row a member",
    about_mass: "mass, centre of gravity, surface and welds of the whole frame",
    about_welds: "welds, one row an end",
    about_parts_list: "parts list, one row a part number",
    about_bends: "bends as feed, rotate and bend, one row a bend",
    about_bend_points: "bends as points with the radius at each, one row a point",
    about_model: "the whole frame as a model to look at",
    about_workbook: "all tables in one workbook",
    about_labels: "a label for each part",
    about_assembly: "the frame as an assembly of solids; its first lines name parts that are not in it",
    about_bundle: "all of these files with a manifest of their hashes",
    mass_without_weld: "mass without weld",
    centre_forward: "centre of gravity, forward",
    centre_left: "centre of gravity, left",
    centre_up: "centre of gravity, up",
    surface_to_paint: "surface to paint",
    length_of_welds: "length of all welds",
    furthest_of_end_1: "furthest point of end 1",
    mark_of_bend_end: "tangent mark where bend {bend} ends",
    kit_differs_by: "kit differs by",
    design_sha256: "design, SHA-256",
    unrolled: "{number}, {mark}, end {end}, unrolled",
    as_solid: "{number}, {mark}, as a solid",
    label_sizes: "Give labels of at least {width} x {height} mm that fit on the paper, with gaps of 0 to 50 mm.",
    labels_of_a_sheet: "A sheet has {count} labels: {most} can be taken.",
    label_too_low: "A label is too low for what stands on it. Choose a higher one.",
    label_too_narrow_for_number: "The part number {number} does not fit on a label. Choose a wider one.",
    label_too_narrow: "A label is too narrow for what stands on it. Choose a wider one.",
    label_code_too_long: "What the code of a label says is too long: shorten the name of the part or the address of this service.",
}
.checked();
