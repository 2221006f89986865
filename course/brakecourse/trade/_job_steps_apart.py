"""The steps of the job as far as the brake is apart, in a usual order: one wheel, a floating caliper.

Common practice, no source; the two rules that are written down name where. Each caution gives way to the
maker's data and to local law.
"""

from __future__ import annotations

from brakecourse.trade._job_records import PHASES, Operation

BEFORE, OFF, APART = PHASES[:3]

APART_STEPS: tuple[Operation, ...] = (
    Operation(
        "hear_complaint",
        "Write the complaint down in the customer's words.",
        ("work order",),
        "Ask whether the vehicle is safe to drive into the bay.",
        BEFORE,
    ),
    Operation(
        "look_up_data",
        "Look up the maker's limits, torques and procedure for this very vehicle.",
        ("maker's service data",),
        "A parking brake that works by itself may need a service position first.",
        BEFORE,
        "Limits, torques and lifting points would be guesses.",
    ),
    Operation(
        "check_fluid",
        "Read the fluid level, test the fluid and write both down. Add nothing yet.",
        ("light", "fluid tester", "gloves", "eye protection"),
        "Brake fluid harms eyes, skin and paint. Wash it off with water at once.",
        BEFORE,
        "A leak, or fluid that boils too soon, would go unseen.",
    ),
    Operation(
        "chock_wheels",
        "Park on firm, level ground and chock a wheel that stays down.",
        ("chocks",),
        "Never lift a vehicle that can roll.",
        BEFORE,
        "The vehicle could roll off its supports.",
    ),
    Operation(
        "loosen_nuts",
        "Loosen each wheel nut a little while the tyre stands on the ground. Take none off.",
        ("wheel nut wrench",),
        "Pull, do not push: a hand that slips hits something.",
        BEFORE,
        "The hard pull would come later, on a raised vehicle.",
    ),
    Operation(
        "lift_vehicle",
        "Lift the vehicle at the maker's lifting points.",
        ("jack",),
        "Nobody inside, nobody under it. A jack lifts; it does not hold.",
        BEFORE,
    ),
    Operation(
        "set_stands",
        "Set rated stands, lower the vehicle onto them and see that it stands steady.",
        ("rated stands",),
        "Each stand is rated above the load that it carries, and stands on firm ground.",
        BEFORE,
        "The vehicle could fall on whoever works at it.",
    ),
    Operation(
        "wheel_off",
        "Take off the nuts and the wheel.",
        ("wheel nut wrench",),
        "A wheel is heavy. The brake behind it may still be hot.",
        OFF,
    ),
    Operation(
        "look_for_leaks",
        "Look for wet places, and at the hose and the boots for cracks and tears.",
        ("light", "mirror"),
        "A hot caliper burns. Keep clear of wet fluid.",
        OFF,
        "A leaking caliper or a cracked hose could go back on the road.",
    ),
    Operation(
        "wet_dust",
        "Wet the brake dust, wipe it off and bag the cloth. Never brush it dry or blow it off.",
        ("spray bottle", "cloths", "bag", "respirator as the law asks"),
        "Treat all brake dust as harmful. Local law says which method may be used.",
        OFF,
        "Whoever is in the shop would breathe the dust.",
    ),
    Operation(
        "open_bleeder",
        "Put a hose on the bleeder, lead it into a bottle and open the bleeder.",
        ("bleeder wrench", "clear hose", "bottle", "eye protection"),
        "Fluid harms eyes and paint. Catch all of it.",
        APART,
        "Old fluid and dirt would be pushed back into the ABS unit.",
    ),
    Operation(
        "push_piston",
        "Push the piston back slowly and squarely. The old fluid goes into the bottle.",
        ("piston press",),
        "Keep fingers out of the caliper. A piston that turns in needs its own press.",
        APART,
    ),
    Operation(
        "close_bleeder",
        "Shut the bleeder while the press still holds the piston.",
        ("bleeder wrench",),
        "Fluid harms eyes and paint.",
        APART,
        "Air would get in, and fluid out.",
    ),
    Operation(
        "caliper_off",
        "Take out the caliper bolts and lift the caliper off.",
        ("wrench",),
        "Hold the caliper with the other hand: it is heavy, and it may be hot.",
        APART,
    ),
    Operation(
        "support_caliper",
        "Hang the caliper on a hook, with no load on its hose.",
        ("hook",),
        "Do not twist the hose.",
        APART,
        "The hose would carry the caliper and could fail later.",
    ),
    Operation(
        "pads_out",
        "Take the pads out and note which was the inner one.",
        ("chalk",),
        "Springs can fly. Wear eye protection.",
        APART,
    ),
    Operation(
        "measure_pads",
        "Measure each lining at its corners and name the pattern of wear.",
        ("depth gauge", "record sheet"),
        "Touch the linings with gloves: dust, and grease from fingers.",
        APART,
    ),
    Operation(
        "bracket_off",
        "Take out the bracket bolts and take the bracket to the bench.",
        ("wrench",),
        "These bolts are tight: see that the vehicle stands steady before you pull.",
        APART,
    ),
)
