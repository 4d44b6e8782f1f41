//! The records of a job, each with its fields in the order of the link: one list for both stored forms.

/// Calls a macro with every record. The order is frozen: links are written in it. What stands behind a `2:` or `3:` came with
/// that version of the link.
macro_rules! every_record {
    ($record:ident) => {
        $record!(ConditionsInput:
            cap_kpa, coolant_c, bay_air_c, coolant, altitude_m, tape_error_mm, angle_error_deg, flow_l_min, filler_at_z_mm, stands;
            3: rest_of_branch_kpa, refill);
        $record!(RefillInput: holds_l, left_l, left_percent, protect_to_c, pre_mix_percent);
        $record!(CoolantInput: glycol, percent_by_volume);
        $record!(StandsInput: nose_up_deg);
        $record!(RunInput:
            name, from, to, via, neighbours, rock_mm, rock, hose, replaces, side, flow_can_stop, sleeve, stood, try_cut_mm;
            2: bows, legs, elbows; 3: oil_near);
        $record!(ElbowInput: end, leg_mm, bend_deg, towards, inside_mm, far_leg_mm);
        $record!(LegInput: straight_mm, bend_deg, towards, inside_mm);
        $record!(SpigotInput:
            name, spigot_mm, bead_mm, seat_mm, at_mm, points, on, made_of, straight_mm, can_move_mm, seat_from, turns,
            angle_error_deg, typed; 2: turned_deg);
        $record!(ViaInput: at_mm, holds, on; 2: along);
        $record!(NeighbourInput: name, shape, kind, on, surface_c, standoff_mm, shield; 2: travel_mm, may_touch);
        $record!(ShieldInput: gap_mm);
        $record!(RockInput: shift_mm, turn_deg, crank_line);
        $record!(CrankLineInput: through_mm, along);
        $record!(HoseInput:
            bore_mm, wall_mm, outside_mm, rubber, class, min_bend_radius_mm, creases_at_inside_mm, piece_mm;
            2: wire_supported; 3: rated_kpa);
        $record!(ReplacesInput: length_mm, bore_mm);
    };
}
