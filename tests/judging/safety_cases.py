"""For every shipped safety rule students whom it concerns, and some, nearly the same, whom it does not."""

from reportgen.judging.safety import Facts
from tests.judging.safety_facts import adult, facts, felt, junior

SEATED = {"position": "seated"}
LEFT = ("before", "around", "after")

OPEN_AND_BENT = {"pelvis-open-impact": 55, "side-bend-impact": 35}
OPEN_NOT_BENT = {"pelvis-open-impact": 55, "side-bend-impact": 34.9}
STIFF = {"lead-hip": "restricted"}
STIFF_TRAIL = {"trail-hip": "restricted"}
STICKS = {"kinds": ("range", "speed-sticks")}

ROWS: dict[str, tuple[list[Facts], list[Facts]]] = {
    # back.yaml
    "low-back-emergency-signs": (
        [adult(**felt("low-back", 1))],
        [adult(**felt("low-back", 0)), junior(**felt("low-back", 1))],
    ),
    "low-back-ask-a-doctor-signs": (
        [adult(**felt("low-back", 1))],
        [adult(**felt("neck", 5)), junior(**felt("low-back", 1))],
    ),
    "low-back-strong-pain": (
        [adult(**felt("low-back", 6))],
        [adult(**felt("low-back", 5)), junior(**felt("low-back", 6))],
    ),
    "low-back-some-pain": (
        [adult(**felt("low-back", 3)), adult(**felt("low-back", 5, "after"))],
        [adult(**felt("low-back", 2)), adult(**felt("low-back", 6)), adult(**felt("low-back", 4, "next-morning"))],
    ),
    "low-back-next-morning": (
        [adult(**felt("low-back", 3, "next-morning"))],
        [adult(**felt("low-back", 3, "after")), junior(**felt("low-back", 3, "next-morning"))],
    ),
    "low-back-watched": ([adult(watch=["low-back"])], [adult(watch=["neck"])]),
    "open-with-side-bend": (
        [adult(found=OPEN_AND_BENT)],
        [adult(found=OPEN_NOT_BENT), adult(found=OPEN_AND_BENT, watch=["low-back"]), junior(found=OPEN_AND_BENT)],
    ),
    "open-with-side-bend-junior": (
        [junior(found=OPEN_AND_BENT)],
        [junior(found=OPEN_NOT_BENT), adult(found=OPEN_AND_BENT)],
    ),
    "open-with-side-bend-watched": (
        [adult(found=OPEN_AND_BENT, watch=["low-back"])],
        [adult(found=OPEN_AND_BENT), adult(found=OPEN_NOT_BENT, watch=["low-back"])],
    ),
    "separation-with-watched-back": (
        [
            adult(found={"separation-top": 55}, watch=["low-back"]),
            adult(found={"separation-top": 60}, **felt("low-back", 1)),
        ],
        [adult(found={"separation-top": 55}), adult(found={"separation-top": 54.9}, watch=["low-back"])],
    ),
    "carry-no-bag": ([adult(watch=["low-back"]), adult(**felt("low-back", 1))], [adult(**felt("low-back", 0))]),
    "low-back-rising": (
        [adult(scores={"low-back": (0, 1, 2)})],
        [
            adult(scores={"low-back": (1, 2, 2)}),
            adult(scores={"low-back": (1, 2)}),
            junior(scores={"low-back": (0, 1, 2)}),
        ],
    ),
    "low-back-new-after-fifty": (
        [adult(50, **felt("low-back", 3)), facts("senior", 71, **felt("low-back", 4))],
        [
            adult(49, **felt("low-back", 3)),
            adult(50, **felt("low-back", 2)),
            adult(50, watch=["low-back"], **felt("low-back", 3)),
        ],
    ),
    "low-back-new-under-twenty": (
        [adult(18, **felt("low-back", 2)), adult(19, **felt("low-back", 2))],
        [adult(20, **felt("low-back", 2)), junior(17, **felt("low-back", 2)), adult(19, **felt("low-back", 1))],
    ),
    "low-back-lasts": (
        [adult(scores={"low-back": (3, 4, 3)})],
        [adult(scores={"low-back": (3, 3, 2)}), adult(scores={"low-back": (3, 3)})],
    ),
    "low-back-lasts-a-little": (
        [adult(scores={"low-back": (1, 3, 1)})],
        [
            adult(scores={"low-back": (1, 0, 1)}),
            adult(scores={"low-back": (1, 1)}),
            adult(scores={"low-back": (3, 3, 3)}),
            junior(scores={"low-back": (1, 1, 1)}),
        ],
    ),
    # growing.yaml
    "junior-low-back-pain": (
        [junior(**felt("low-back", 2))],
        [junior(**felt("low-back", 1)), adult(**felt("low-back", 2))],
    ),
    "junior-low-back-next-morning": (
        [junior(**felt("low-back", 1, "next-morning"))],
        [junior(**felt("low-back", 1)), adult(**felt("low-back", 1, "next-morning"))],
    ),
    "junior-low-back-felt": (
        [junior(**felt("low-back", 1))],
        [junior(**felt("low-back", 0)), adult(**felt("low-back", 1))],
    ),
    "junior-pain-elsewhere": (
        [junior(**felt("lead-knee", 3))],
        [junior(**felt("lead-knee", 2)), adult(**felt("lead-knee", 3))],
    ),
    "junior-back-while-growing": ([junior(watch=["low-back"])], [junior(watch=["neck"]), adult(watch=["low-back"])]),
    "junior-turn-is-no-target": (
        [junior(found={"thorax-closed-top": 80}), junior(found={"separation-top": 30})],
        [junior(found={"pelvis-open-impact": 40}), adult(found={"thorax-closed-top": 80})],
    ),
    "junior-hours": ([junior()], [adult()]),
    "junior-back-danger-signs": (
        [junior(**felt("low-back", 1)), junior(watch=["low-back"])],
        [junior(), adult(**felt("low-back", 1))],
    ),
    "junior-low-back-felt-again": (
        [junior(scores={"low-back": (1, 1)})],
        [junior(scores={"low-back": (0, 1)}), junior(scores={"low-back": (1,)}), adult(scores={"low-back": (1, 1)})],
    ),
    "junior-before-the-spurt": ([junior(growth="before")], [junior(growth="around"), junior()]),
    "junior-around-the-spurt": ([junior(growth="around")], [junior(growth="after"), junior(), adult(growth="around")]),
    "junior-after-the-spurt": ([junior(growth="after")], [junior(growth="around"), adult(growth="after")]),
    "junior-measure-growth": (
        [junior(9), junior(16)],
        [junior(8), junior(17), *(junior(growth=stage) for stage in LEFT), adult(18)],
    ),
    "junior-growing-fast": ([junior(grows=7.0)], [junior(grows=6.9), junior(growth="around"), adult(18, grows=7.0)]),
    "junior-growing-fast-with-side-bend": (
        [junior(growth="around", found={"side-bend-impact": 35}), junior(grows=8, found={"pelvis-open-impact": 60})],
        [
            junior(found={"side-bend-impact": 35}),
            junior(growth="around", found={"side-bend-impact": 34, "pelvis-open-impact": 59}),
        ],
    ),
    "junior-speed-sticks-while-growing": (
        [junior(growth="before", load=STICKS), junior(grows=7, load=STICKS)],
        [junior(growth="after", load=STICKS), junior(growth="around", load={"kinds": ("range",)}), adult(load=STICKS)],
    ),
    # hips.yaml
    "restricted-hips": (
        [adult(hips={"lead-hip": "restricted", "trail-hip": "22 deg"})],
        [
            adult(hips={"lead-hip": "restricted", "trail-hip": "23 deg"}),
            adult(hips={"lead-hip": "restricted"}),
            adult(hips={"trail-hip": "22 deg"}),
        ],
    ),
    "restricted-hips-short-turn": (
        [adult(hips=STIFF_TRAIL, found={"thorax-closed-top": "below range"})],
        [
            adult(hips=STIFF, found={"thorax-closed-top": "below range"}),
            adult(hips=STIFF_TRAIL, found={"thorax-closed-top": "too close to call"}),
            adult(found={"pelvis-closed-top": "below range"}),
        ],
    ),
    "restricted-hips-far-open": (
        [adult(hips=STIFF, found={"pelvis-open-impact": 50})],
        [
            adult(hips=STIFF, found={"pelvis-open-impact": 49.9}),
            adult(found={"pelvis-open-impact": 50}),
            adult(hips=STIFF_TRAIL, found={"pelvis-open-impact": 50}),
        ],
    ),
    "restricted-hips-large-separation": (
        [adult(hips=STIFF_TRAIL, found={"separation-top": 55})],
        [
            adult(hips=STIFF_TRAIL, found={"separation-top": 54.9}),
            adult(found={"separation-top": 55}),
            adult(hips=STIFF, found={"separation-top": 55}),
        ],
    ),
    "restricted-lead-hip": (
        [adult(hips=STIFF)],
        [adult(hips={"trail-hip": "restricted"}), adult(hips={"lead-hip": "20 deg", **SEATED})],
    ),
    "restricted-trail-hip": ([adult(hips={"trail-hip": "22 deg"})], [adult(hips=STIFF)]),
    "lead-hip-turns-very-little": (
        [adult(hips={"lead-hip": "19.9 deg"})],
        [adult(hips={"lead-hip": "20 deg"}), adult(hips={"trail-hip": "10 deg"}), adult(hips=STIFF)],
    ),
    "hips-differ": (
        [adult(hips={"lead-hip": "24 deg", "trail-hip": "34 deg"})],
        [adult(hips={"lead-hip": "24 deg", "trail-hip": "33.9 deg"}), adult(hips={"lead-hip": "10 deg"})],
    ),
    # joints.yaml
    "strong-pain-elsewhere": (
        [adult(**felt("neck", 6))],
        [adult(**felt("neck", 5)), adult(**felt("low-back", 6)), junior(**felt("neck", 6))],
    ),
    "pain-next-morning": (
        [adult(**felt("lead-hip", 3, "next-morning"))],
        [adult(**felt("lead-hip", 3)), adult(**felt("lead-hip", 2, "next-morning"))],
    ),
    "felt-a-little": (
        [adult(**felt("neck", 1)), facts("senior", 70, **felt("low-back", 2))],
        [adult(**felt("neck", 0)), adult(**felt("neck", 3)), junior(**felt("neck", 1))],
    ),
    "lead-knee-locked": (
        [adult(found={"lead-knee-flex-impact": 5}, watch=["lead-knee"])],
        [adult(found={"lead-knee-flex-impact": 5}), adult(found={"lead-knee-flex-impact": 5.1}, watch=["lead-knee"])],
    ),
    "lead-hip-rise-with-sore-knee": (
        [adult(found={"lead-hip-rise": "above range"}, **felt("lead-knee", 1))],
        [
            adult(found={"lead-hip-rise": "above range"}),
            adult(found={"lead-hip-rise": "in range"}, **felt("lead-knee", 1)),
        ],
    ),
    **{
        rule: (
            [adult(watch=[site]), adult(**felt(site, 3)), junior(**felt(site, 1))],
            [adult(**felt(site, 2)), junior(**felt(site, 0))],
        )
        for rule, site in (
            ("trail-knee-sore", "trail-knee"),
            ("lead-hip-sore", "lead-hip"),
            ("trail-hip-sore", "trail-hip"),
            ("neck-sore", "neck"),
            ("ankle-sore", "trail-ankle"),
        )
    },
    **{
        f"{rule}-sore": (
            [adult(**felt(site, 3)), junior(**felt(site, 1))],
            [adult(watch=[site]), adult(**felt(site, 2)), junior(**felt(site, 0))],
        )
        for rule, site in (("lead-knee", "lead-knee"), ("wrist-or-elbow", "trail-elbow"), ("shoulder", "lead-shoulder"))
    },
    **{
        f"{rule}-watched": ([adult(watch=[site])], [adult(**felt(site, 5)), adult(watch=["low-back"])])
        for rule, site in (("lead-knee", "lead-knee"), ("wrist-or-elbow", "lead-wrist"), ("shoulder", "trail-shoulder"))
    },
    "joint-rising": (
        [adult(scores={"lead-knee": (0, 1, 2)})],
        [adult(scores={"lead-knee": (0, 2, 2)}), adult(scores={"low-back": (0, 1, 2)})],
    ),
    "junior-pain-elsewhere-rising": (
        [junior(scores={"lead-knee": (0, 1, 2)})],
        [junior(scores={"lead-knee": (1, 2)}), adult(scores={"lead-knee": (0, 1, 2)})],
    ),
    # practice.yaml
    "junior-more-hours-than-years": (
        [junior(13, load={"hours_this_week": 13.1})],
        [junior(13, load={"hours_this_week": 13.0}), junior(13), adult(18, load={"hours_this_week": 40})],
    ),
    "junior-sixteen-hours": (
        [junior(17, load={"hours_this_week": 16})],
        [junior(17, load={"hours_this_week": 15.9}), adult(load={"hours_this_week": 16})],
    ),
    "junior-no-day-off": (
        [junior(load={"days_in_a_row": 6})],
        [junior(load={"days_in_a_row": 5}), adult(load={"days_in_a_row": 6})],
    ),
    "junior-no-month-off": (
        [junior(load={"months_in_a_row": 8})],
        [junior(load={"months_in_a_row": 7}), adult(load={"months_in_a_row": 8})],
    ),
    "many-swings-in-a-day": (
        [adult(load={"most_swings_a_day": 200}), adult(load={"most_swings_in_two_days": 300})],
        [
            adult(load={"most_swings_a_day": 199, "most_swings_in_two_days": 299}),
            adult(load={"swings_this_week": 500}),
            junior(load={"most_swings_a_day": 200}),
        ],
    ),
    "junior-many-swings-in-a-day": (
        [junior(load={"most_swings_a_day": 100}), junior(load={"most_swings_in_two_days": 150})],
        [
            junior(load={"most_swings_a_day": 99, "most_swings_in_two_days": 149}),
            junior(),
            adult(load={"most_swings_a_day": 100}),
            junior(growth="around", load={"most_swings_a_day": 100}),
            junior(grows=7, load={"most_swings_a_day": 100}),
        ],
    ),
    "junior-many-swings-before-pain": (
        [
            junior(load={"most_swings_in_two_days": 400}, **felt("low-back", 5)),
            junior(load={"most_swings_a_day": 75}, **felt("lead-elbow", 3)),
        ],
        [
            junior(load={"most_swings_a_day": 74}, **felt("low-back", 5)),
            junior(load={"most_swings_a_day": 200}, **felt("low-back", 1)),
            junior(load={"most_swings_a_day": 200}, **felt("lead-elbow", 2)),
            junior(load={"most_swings_a_day": 200}),
            adult(load={"most_swings_a_day": 200}, **felt("low-back", 5)),
        ],
    ),
    "junior-many-swings-while-growing": (
        [
            junior(grows=7, load={"most_swings_in_two_days": 400}),
            junior(growth="around", load={"most_swings_a_day": 75}),
            junior(growth="around", load={"swings_this_week": 250}),
        ],
        [
            junior(growth="around", load={"most_swings_a_day": 74}),
            junior(growth="after", load={"most_swings_a_day": 75}),
            adult(18, grows=7, load={"most_swings_a_day": 75}),
        ],
    ),
    "practice-jump": (
        [adult(load={"rise": 1.5, "swings_this_week": 100}), junior(load={"rise": 3, "swings_this_week": 200})],
        [
            adult(load={"rise": 1.4, "swings_this_week": 300}),
            adult(load={"rise": 2, "swings_this_week": 99}),
            adult(load={"swings_this_week": 300}),
        ],
    ),
    "practice-jump-on-a-sore-back": (
        [adult(load={"rise": 1.3}, **felt("low-back", 1))],
        [
            adult(load={"rise": 1.3}),
            adult(load={"rise": 1.2}, **felt("low-back", 1)),
            junior(load={"rise": 1.3}, **felt("low-back", 1)),
        ],
    ),
    "week-without-a-rest-day": (
        [adult(load={"days_in_a_row": 7})],
        [adult(load={"days_in_a_row": 6}), junior(load={"days_in_a_row": 7})],
    ),
    "speed-sticks-on-a-sore-body": (
        [adult(load=STICKS, watch=["low-back"]), junior(load=STICKS, **felt("lead-wrist", 2))],
        [
            adult(load=STICKS),
            adult(load=STICKS, **felt("lead-wrist", 1)),
            adult(load={"kinds": ("range",)}, watch=["low-back"]),
        ],
    ),
    "driver-with-watched-back": (
        [adult(club="driver", watch=["low-back"]), adult(club="driver", **felt("low-back", 3))],
        [
            adult(club="iron", watch=["low-back"]),
            adult(club="driver"),
            adult(club="driver", **felt("low-back", 2)),
        ],
    ),
    # usual.yaml
    "supervised-juniors": ([junior()], [adult(), facts("senior", 70)]),
}
