//! The stock plan.

crate::phrases! {
    /// The stock plan.
    StockPlan {
        for_frame();
        for_changes();
        for_changes_but_scrap();
        how_to_read();
        check_your_kerf();
        no_plan(why);
        head_bar();
        head_order();
        head_parts();
        of_number(number, said);
        least(cost);
        not_proven(cost, bound);
        kerf_and_trim(kerf, most, trim);
        kerf_at_most_and_trim(kerf, trim);
        remnants(remnant, worth, kept);
        nothing_left();
        remnant(length);
        offcut(length);
        one_of(part, length);
        several_of(count, part, length);
        saw(number, place, angle);
        saw_square(number, place);
        turn_and_saw(number, place, turn, angle);
        turn_and_saw_square(number, place, turn);
        back_and_saw(number, place, turn, angle);
        back_and_saw_square(number, place, turn);
        comes_off(part, end);
        begins(part, end);
    } + counted {
        section(section, size, material, bars);
        bar(number, count, length);
    }
}
