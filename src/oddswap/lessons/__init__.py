"""What the course's notebooks call: guesses, knobs, exercises, and each lesson's own pictures. Main door: `knob`."""

from oddswap.forwards import surface

__all__, __getattr__, __dir__ = surface(
    __name__,
    {
        "lessons.clips": "check_caption check_cut draw_one_beat",
        "lessons.complete_laws": "check_beyond check_placed draw_programme draw_two_walls",
        "lessons.free_holdings": "THREE_ALARMS alarm_of always_held check_holding check_signs draw_holdings draw_three_alarms "
        "draw_three_causes",
        "lessons.half_a_picture": "check_open check_photograph draw_fork draw_left ways_left",
        "lessons.identical_twins": "check_explanation check_lookalike draw_looks twin_table",
        "lessons.machinery.controls": "begin compare guess knob",
        "lessons.machinery.course": "alphabet glossary_table",
        "lessons.machinery.exercises": "Claim check_code check_law explain_back",
        "lessons.reshaped_boxes": "BLACK_CORNERS WHITE_CORNERS check_home check_shapes draw_fours draw_in_and_out law_at_home "
        "signs_of_fours walk",
        "lessons.separate_worlds": "check_made_up check_repair dial_arrows draw_full_turn draw_worlds worlds",
        "lessons.short_ways": "check_carried check_shortest distances draw_overlap draw_two_ripples ripple_counts",
        "lessons.single_turns": "check_cycles check_swaps check_there draw_quarter_turn",
        "lessons.sliding_tiles": "check_places check_sorting chequers draw_chequers draw_levels",
        "lessons.stuck_puzzles": "check_changes check_culprits check_reseating draw_causes draw_flip_marks draw_tape taped",
        "lessons.tray": "sliding_tray",
        "values.permutation": "sign_by_cycles sign_by_inversions sign_by_swaps",
    },
)
