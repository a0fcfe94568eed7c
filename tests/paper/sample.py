"""A small box as planning would give it: two handed sides, two ends, a panel. Hand-made, so that the sheets can be tested
without planning; figures are worked out from the drawing by hand."""

from __future__ import annotations

from sequencer.features.groove import Groove
from sequencer.features.hole import Hole
from sequencer.features.housing import Housing
from sequencer.findings import Finding
from sequencer.model.job import Finish, Hardware, Job, Joint, Part, Seat, Stock
from sequencer.model.plan import (
    Blank,
    Check,
    ClassLine,
    Control,
    DecisionLine,
    Guard,
    HazardLine,
    LooseThing,
    PartLine,
    Piecework,
    Plan,
    Reason,
    RiskRow,
    Setting,
    StationCard,
    Step,
    Task,
    Wear,
)
from sequencer.model.workshop import Who

STUDENT = Who("student", "room", "instructed")
WATCHED = Who("student", "watching", "signed-off")
STAFF = Who("staff", "room", "instructed")

EYES = Wear("eye-protection", "Eye protection", "M004", "eye-protection")
APRON = Wear("apron", "Apron", "M026", "apron")
HAIR = Wear("tied-hair", "Hair tied back", "", "tied-hair")
GLOVES = Wear("gloves", "No gloves", "P028", "no-gloves")
EARS = Wear("ear-protection", "Ear protection", "M003", "ear-protection")

CHUCK = Guard("chuck-guard", "chuck guard", "Pull the chuck guard down before you start.")
TUNNEL = Guard("tunnel-guard", "tunnel guard", "Keep the tunnel guard over the blade throughout the cut.")
RIVING = Guard("riving-knife", "riving knife", "Keep the riving knife close behind the blade.")
CROWN = Guard("crown-guard", "crown guard", "Keep the crown guard down close to the wood.")
STICK = Guard("push-stick", "push stick", "Use the push stick for the last 300 mm.")
VICE = Guard("bench-vice", "bench vice", "Hold the wood low in the vice.")
HOOK = Guard("bench-hook", "bench hook", "Hold the wood hard against the bench hook.")
CLAMP = Guard("machine-clamp", "clamp", "Clamp the wood to the table.")
SASH = Guard("sash-cramps", "sash cramps", "Hold the cramps level.")

TURNING = HazardLine(
    "entanglement",
    "Caught by turning parts",
    "Turning parts can grab hair and sleeves. Tie both back.",
    (
        Control("engineering", "Chuck guard down over the chuck and the bit before the drill starts."),
        Control("administrative", "Hair tied back before entering the machine area."),
    ),
)
EDGE = HazardLine(
    "edge-tool-cut",
    "Cut by an edge tool",
    "Sharp edges cut deep. Keep both hands behind the edge.",
    (Control("engineering", "Wood held in a vice, never in the hand."),),
)
SAW = HazardLine(
    "hand-saw-cut",
    "Cut by a hand saw",
    "The saw can jump. Keep your thumb away from the line.",
    (Control("engineering", "Wood held on a bench hook."),),
)
BLADE = HazardLine(
    "circular-blade-contact",
    "Touching the turning blade",
    "The blade turns fast. Only staff may use it.",
    (Control("engineering", "Tunnel guard over the blade throughout the cut."),),
)
KICK = HazardLine(
    "kickback",
    "Wood thrown back",
    "Wood can be thrown back. Stay out of its way.",
    (Control("engineering", "Riving knife behind the blade."),),
)
GLUE = HazardLine(
    "glue-contact",
    "Glue on skin or in eyes",
    "Glue can irritate. Wash it off with water.",
    (Control("administrative", "Wash hands after gluing."),),
)
DUST = HazardLine(
    "wood-dust", "Breathing wood dust", "Dust harms your lungs. Do not blow it.", (Control("engineering", "Extraction on."),)
)


def _job() -> Job:
    side = Part(
        "side",
        "A",
        2,
        "board",
        320.0,
        90.0,
        15.0,
        {
            "floor-groove": Groove(name="floor-groove", face="inside", from_="bottom", distance=8.0, width=6.0, depth=6.0),
            "left-housing": Housing(name="left-housing", face="inside", from_="left", distance=12.0, width=15.0, depth=5.0),
            "right-housing": Housing(name="right-housing", face="inside", from_="right", distance=12.0, width=15.0, depth=5.0),
            "handle-hole": Hole(name="handle-hole", face="inside", diameter=16.0, at=({"left": 120.0, "top": 20.0},), depth=9.0),
        },
        handed=True,
    )
    end = Part(
        "end",
        "B",
        2,
        "board",
        170.0,
        90.0,
        15.0,
        {
            "floor-groove": Groove(name="floor-groove", face="inside", from_="bottom", distance=8.0, width=6.0, depth=6.0),
            "finger-hole": Hole(name="finger-hole", face="inside", diameter=25.0, at=({"top": 30.0},)),
        },
    )
    floor = Part("floor", "C", 1, "panel", 302.0, 172.0, 6.0, {})
    corners = {
        f"corner-{number}": Joint(
            f"corner-{number}",
            f"end.{end_number}",
            Seat(f"end.{end_number}", face),  # type: ignore[arg-type]
            Seat(f"side.{hand}", feature=f"{housing}-housing"),
            ("glue",),
            fit="housed",
            flush=(("bottom", "bottom"),),
        )
        for number, (end_number, face, hand, housing) in enumerate(
            (
                (1, "left", "left", "left"),
                (1, "right", "right", "right"),
                (2, "left", "left", "right"),
                (2, "right", "right", "left"),
            ),
            1,
        )
    }
    floors = {
        "floor-1": Joint(
            "floor-1", "floor", Seat("floor", "bottom"), Seat("side.left", feature="floor-groove"), ("dry",), fit="sheet-panel"
        ),
        "floor-2": Joint(
            "floor-2", "floor", Seat("floor", "left"), Seat("end.1", feature="floor-groove"), ("dry",), fit="sheet-panel"
        ),
    }
    return Job(
        "Herb box",
        {"long": 320.0, "wide": 190.0},
        {
            "board": Stock("board", "radiata pine", "board", 90.0, 15.0, (2400.0,), hardness="softwood"),
            "panel": Stock("panel", "pine plywood", "sheet", 610.0, 6.0, (1220.0,), hardness="sheet"),
        },
        {"side": side, "end": end, "floor": floor},
        {**corners, **floors},
        hardware={"glides": Hardware("glides", "felt glide", 4, diameter=12.0)},
        finish=(Finish("danish-oil", 2),),
        glue="pva",
        file="herb-box.yaml",
    )


def _task(
    name: str,
    kind: str,
    does: str,
    operation: str,
    station: str,
    station_kind: str,
    who: Who,
    quantity: int,
    minutes: float,
    *,
    in_the_long: bool = False,
    settings: tuple[Setting, ...] = (),
) -> Task:
    part, feature, act = name.split("/")
    return Task(
        name,
        part,
        feature,
        act,
        kind,
        does,
        operation,
        station,
        station_kind,
        who,
        f"{operation}:{kind}",
        quantity,
        in_the_long,
        minutes,
        settings,
    )


def _mm(name: str, label: str, value: float) -> Setting:
    text = f"{value:.1f}".removesuffix(".0")
    return Setting(name, label, f"{text} mm", value, "mm")


FENCE = (
    _mm("fence", "fence from the blade", 8.0),
    _mm("height", "blade height", 6.0),
    Setting("passes", "passes", "2", 2.0),
    _mm("shift", "move the fence between passes", 3.0),
)
DRILL16 = (
    Setting("bit", "bit", "16 mm lip-and-spur", 16.0, "mm"),
    Setting("speed", "speed", "1000 rev/min", 1000.0, "rev/min"),
    _mm("depth", "depth stop", 9.0),
)
DRILL25 = (Setting("bit", "bit", "25 mm lip-and-spur", 25.0, "mm"), Setting("speed", "speed", "750 rev/min", 750.0, "rev/min"))

BEFORE = (
    "Check that the chuck key is out.",
    "Check that the chuck guard closes.",
    "Check that the bit runs true.",
    "Clamp the wood or the vice.",
)


def _tasks() -> tuple[Task, ...]:
    return (
        _task(
            "side/rough-length/cut", "rough-length", "Cut the blank", "hand-crosscut", "hand-saws", "hand-sawing", STAFF, 2, 2.0
        ),
        _task(
            "end/rough-length/cut", "rough-length", "Cut the blank", "hand-crosscut", "hand-saws", "hand-sawing", STAFF, 2, 2.0
        ),
        _task(
            "side/floor-groove/cut",
            "groove",
            "Cut the floor groove",
            "saw-groove",
            "saw-1",
            "saw-bench",
            STAFF,
            2,
            1.5,
            in_the_long=True,
            settings=FENCE,
        ),
        _task(
            "end/floor-groove/cut",
            "groove",
            "Cut the floor groove",
            "saw-groove",
            "saw-1",
            "saw-bench",
            STAFF,
            2,
            1.5,
            in_the_long=True,
            settings=FENCE,
        ),
        _task(
            "side/first-end/square",
            "first-end",
            "Square the first end",
            "hand-crosscut",
            "hand-saws",
            "hand-sawing",
            STUDENT,
            2,
            6.0,
        ),
        _task("side/length/cut", "length", "Cut to length", "hand-crosscut", "hand-saws", "hand-sawing", STUDENT, 2, 6.0),
        _task("end/length/cut", "length", "Cut to length", "hand-crosscut", "hand-saws", "hand-sawing", STUDENT, 2, 6.0),
        _task("side/mark-out/mark", "mark-out", "Mark out the side", "mark-out", "benches", "marking-out", STUDENT, 2, 8.0),
        _task("end/mark-out/mark", "mark-out", "Mark out the end", "mark-out", "benches", "marking-out", STUDENT, 2, 5.0),
        _task(
            "side/left-housing/cut",
            "housing",
            "Cut the left housing",
            "saw-and-chisel-housing",
            "benches",
            "chiselling",
            STUDENT,
            2,
            20.0,
        ),
        _task(
            "side/right-housing/cut",
            "housing",
            "Cut the right housing",
            "saw-and-chisel-housing",
            "benches",
            "chiselling",
            STUDENT,
            2,
            20.0,
        ),
        _task(
            "side/handle-hole/bore",
            "hole",
            "Drill the handle hole",
            "drill-blind-hole",
            "drill-1",
            "pillar-drill",
            WATCHED,
            2,
            3.0,
            settings=DRILL16,
        ),
        _task(
            "end/finger-hole/bore",
            "hole",
            "Drill the finger hole",
            "drill-through-hole",
            "drill-1",
            "pillar-drill",
            WATCHED,
            2,
            3.0,
            settings=DRILL25,
        ),
        _task("box/dry-fit/try", "dry-fit", "Try the box dry", "dry-fit", "benches", "assembly", STUDENT, 1, 10.0),
        _task("box/glue/glue", "glue", "Glue the box", "glue-up", "gluing-table", "gluing", STUDENT, 1, 15.0),
        _task("box/cure/wait", "cure", "Leave the glue to set", "cure", "gluing-table", "gluing", STUDENT, 1, 720.0),
    )


def _step(
    number: int,
    name: str,
    title: str,
    station: str,
    station_kind: str,
    tasks: tuple[str, ...],
    parts: tuple[tuple[str, str, int], ...],
    who: Who,
    **rest: object,
) -> Step:
    given: dict[str, object] = {
        "kind": "work",
        "card": "student" if who.operator == "student" else "staff",
        "station_title": station_kind.replace("-", " "),
        "operation": station_kind,
        "guards": (),
        "guard_line": "",
        "holding": (),
        "hazards": (),
        "hazard_line": "",
        "wear": (),
        "settings": (),
        "instructions": (),
        "method": (),
        "checks": (),
        "stop": "",
        "if_wrong": "",
        "feed": "",
        "minutes": 5.0,
        "set_up_minutes": 0.0,
    }
    given.update(rest)
    return Step(
        name,
        number,
        station=station,
        station_kind=station_kind,
        title=title,
        tasks=tasks,  # type: ignore[arg-type]
        parts=tuple(Piecework(*each) for each in parts),
        who=who,
        **given,
    )  # type: ignore[arg-type]


A, B, C = ("side", "A", 2), ("end", "B", 2), ("floor", "C", 1)


def _steps() -> tuple[Step, ...]:
    return (
        _step(
            1,
            "blanks",
            "Cut the blanks",
            "hand-saws",
            "hand-sawing",
            ("side/rough-length/cut", "end/rough-length/cut"),
            (A, B),
            STAFF,
            guard_line="Hold the wood hard against the bench hook.",
            holding=(HOOK,),
            hazards=(SAW,),
            hazard_line=SAW.short,
            instructions=("Measure 345 mm from the sawn end.", "Square a line all round.", "Saw on the waste side of the line."),
            checks=(Check("Length of the blank", "Tape", "345 mm, or up to 3 mm more"),),
            if_wrong="Cut a new blank from the spare board.",
            tools=("tenon saw", "tape"),
            sources=("common practice",),
        ),
        _step(
            2,
            "groove/set-up",
            "Set up the saw bench for the groove",
            "saw-1",
            "saw-bench",
            ("side/floor-groove/cut",),
            (),
            STAFF,
            kind="set-up",
            guards=(RIVING, TUNNEL),
            guard_line="Isolate the saw before you open the guard.",
            hazards=(BLADE,),
            hazard_line=BLADE.short,
            settings=FENCE,
            instructions=(
                "Isolate the machine.",
                "Lower the riving knife just below the tooth tips.",
                "Fit the tunnel guard and the pressure pads.",
                "Set the fence to 8 mm.",
                "Set the blade height to 6 mm.",
                "Try the cut on a test piece.",
            ),
            checks=(Check("Groove in the test piece", "A piece of the panel", "Slides by hand, no rattle"),),
            if_wrong="Set the fence again on a new test piece.",
            minutes=12.0,
            set_up_minutes=12.0,
        ),
        _step(
            3,
            "groove",
            "Groove the sides and ends",
            "saw-1",
            "saw-bench",
            ("side/floor-groove/cut", "end/floor-groove/cut"),
            (A, B),
            STAFF,
            guards=(RIVING, TUNNEL, STICK),
            guard_line=TUNNEL.line,
            hazards=(BLADE, KICK),
            hazard_line=BLADE.short,
            settings=FENCE,
            wear=(EYES, EARS),
            instructions=(
                "Put the face edge against the fence.",
                "Put the inside face down.",
                "Feed the long piece right through.",
                "Move the fence 3 mm.",
                "Feed it through again.",
            ),
            checks=(
                Check("Groove width", "A piece of the panel", "Slides by hand, no rattle"),
                Check("Depth", "Depth gauge", "6 mm ± 0.5 mm"),
            ),
            if_wrong="Use a spare.",
            feed="against the turning blade, right through, never back",
            minutes=6.0,
            sources=(
                "EN 1870-1:2007+A1:2009, cover from above while grooving, as quoted in a test report",
                "from memory: no stopped grooves on the saw",
            ),
            tools=("push stick",),
            notes=("Grooved in the long piece: short sides are too short to hold.",),
        ),
        _step(
            4,
            "groove/guards-back",
            "Put the crown guard back",
            "saw-1",
            "saw-bench",
            (),
            (),
            STAFF,
            kind="guards-back",
            guards=(CROWN, RIVING),
            guard_line=CROWN.line,
            hazards=(BLADE,),
            hazard_line=BLADE.short,
            instructions=(
                "Isolate the machine.",
                "Take off the tunnel guard.",
                "Raise the riving knife.",
                "Fit the crown guard.",
                "Check both guards before anyone returns.",
            ),
            minutes=5.0,
            stop="Staff sign that the guards are back.",
        ),
        _step(
            5,
            "first-end",
            "Square the first end",
            "hand-saws",
            "hand-sawing",
            ("side/first-end/square",),
            (A,),
            STUDENT,
            guard_line=HOOK.line,
            holding=(HOOK,),
            hazards=(SAW,),
            hazard_line=SAW.short,
            wear=(APRON,),
            instructions=(
                "Square a line all round, 5 mm from the end.",
                "Saw on the waste side of the line.",
                "Keep the line in sight.",
            ),
            checks=(Check("End", "Try square", "No light shows"),),
            if_wrong="Square a new line and saw again.",
            minutes=6.0,
            tools=("tenon saw", "try square", "marking knife"),
        ),
        _step(
            6,
            "length",
            "Cut to length",
            "hand-saws",
            "hand-sawing",
            ("side/length/cut", "end/length/cut"),
            (A, B),
            STUDENT,
            guard_line=HOOK.line,
            holding=(HOOK,),
            hazards=(SAW,),
            hazard_line=SAW.short,
            wear=(APRON,),
            instructions=(
                "Measure 320 mm on part A from the square end.",
                "Measure 170 mm on part B from the square end.",
                "Square the line all round with the knife.",
                "Hatch the waste.",
                "Saw on the waste side of the line.",
            ),
            checks=(Check("Length of A", "Steel rule", "320 mm ± 1 mm"), Check("Length of B", "Steel rule", "170 mm ± 1 mm")),
            stop="Show both sides to your teacher before you saw.",
            if_wrong="Tell your teacher. A longer part can be cut again.",
            minutes=12.0,
            tools=("tenon saw", "steel rule"),
        ),
        _step(
            7,
            "mark-out",
            "Mark out the sides and ends",
            "benches",
            "marking-out",
            ("side/mark-out/mark", "end/mark-out/mark"),
            (A, B),
            STUDENT,
            guard_line="Keep the knife behind your holding hand.",
            hazards=(EDGE,),
            hazard_line=EDGE.short,
            wear=(APRON,),
            instructions=(
                "Find the face side and the face edge.",
                "Put the two sides together as a pair.",
                "Mark every line from the left end.",
                "Hatch the waste.",
            ),
            checks=(Check("Pair of sides", "Put inside faces together", "All lines meet"),),
            stop="Show your lines to your teacher.",
            if_wrong="Rub out the lines and mark again.",
            minutes=13.0,
            tools=("marking knife", "marking gauge"),
        ),
        _step(
            8,
            "housings",
            "Cut the housings",
            "benches",
            "chiselling",
            ("side/left-housing/cut", "side/right-housing/cut"),
            (A,),
            STUDENT,
            guard_line=VICE.line,
            holding=(VICE,),
            hazards=(EDGE, SAW),
            hazard_line=EDGE.short,
            wear=(EYES, APRON),
            instructions=(
                "Clamp the side flat on the bench.",
                "Saw down to the depth line on both sides.",
                "Chisel from each edge to the middle.",
                "Level the bottom with the router plane.",
                "Try the end in it.",
            ),
            checks=(Check("Width", "An offcut of part B", "Pushes in by hand"), Check("Depth", "Depth gauge", "5 mm ± 0.5 mm")),
            if_wrong="Stop. Show your teacher. A thin slip can fill a wide housing.",
            minutes=40.0,
            tools=("tenon saw", "12 mm chisel", "router plane"),
            notes=("Cut both sides as a pair.",),
        ),
        _step(
            9,
            "drill-16/set-up",
            "Set up the pillar drill: 16 mm, 9 mm deep",
            "drill-1",
            "pillar-drill",
            ("side/handle-hole/bore",),
            (),
            STAFF,
            kind="set-up",
            guards=(CHUCK,),
            guard_line=CHUCK.line,
            hazards=(TURNING,),
            hazard_line=TURNING.short,
            settings=DRILL16,
            instructions=(
                "Isolate the drill.",
                "Fit the 16 mm bit.",
                "Set the speed to 1000 rev/min.",
                "Set the depth stop to 9 mm.",
            ),
            minutes=5.0,
            set_up_minutes=5.0,
        ),
        _step(
            10,
            "handle-hole",
            "Drill the handle hole",
            "drill-1",
            "pillar-drill",
            ("side/handle-hole/bore",),
            (A,),
            WATCHED,
            guards=(CHUCK,),
            guard_line=CHUCK.line,
            holding=(CLAMP,),
            hazards=(TURNING, DUST),
            hazard_line=TURNING.short,
            settings=DRILL16,
            wear=(EYES, HAIR, GLOVES),
            instructions=(
                "Put the point of the bit on the mark.",
                "Clamp the side to the table.",
                "Pull the chuck guard down.",
                "Drill down to the stop.",
                "Switch off and wait until the bit stands still.",
            ),
            checks=(Check("Depth", "Depth gauge", "9 mm ± 0.5 mm"),),
            stop="Show the clamped side to your teacher before you start.",
            if_wrong="Tell your teacher. Do not drill again by hand.",
            minutes=6.0,
            set_up_minutes=5.0,
            feed="straight down",
            sources=("common practice",),
            tools=("16 mm lip-and-spur bit",),
        ),
        _step(
            11,
            "finger-hole",
            "Drill the finger hole",
            "drill-1",
            "pillar-drill",
            ("end/finger-hole/bore",),
            (B,),
            WATCHED,
            guards=(CHUCK,),
            guard_line=CHUCK.line,
            holding=(CLAMP,),
            hazards=(TURNING, DUST),
            hazard_line=TURNING.short,
            settings=DRILL25,
            wear=(EYES, HAIR, GLOVES),
            instructions=(
                "Put the backing board under the end.",
                "Clamp the end to the table.",
                "Pull the chuck guard down.",
                "Drill slowly right through.",
            ),
            checks=(Check("Back of the hole", "Look", "No splinters"),),
            if_wrong="Tell your teacher.",
            minutes=6.0,
            tools=("25 mm lip-and-spur bit", "backing board"),
        ),
        _step(
            12,
            "dry-fit",
            "Try the box dry",
            "benches",
            "assembly",
            ("box/dry-fit/try",),
            (A, B, C),
            STUDENT,
            guard_line="Keep fingers out of the joints.",
            holding=(SASH,),
            hazard_line="Fingers can get pinched. Close the joints slowly.",
            instructions=(
                "Put the ends into one side.",
                "Slide the floor into the grooves.",
                "Put the other side on.",
                "Measure both diagonals.",
            ),
            checks=(Check("Diagonals", "Tape", "Equal within 2 mm"), Check("Joints", "Look", "No gap over 0.5 mm")),
            stop="Show the dry box to your teacher. Glue cannot be undone.",
            if_wrong="Find the joint that is not home.",
            minutes=10.0,
        ),
        _step(
            13,
            "glue",
            "Glue and cramp the box",
            "gluing-table",
            "gluing",
            ("box/glue/glue",),
            (A, B, C),
            STUDENT,
            guard_line=SASH.line,
            holding=(SASH,),
            hazards=(GLUE,),
            hazard_line=GLUE.short,
            wear=(APRON,),
            instructions=(
                "Brush glue into the housings.",
                "Put no glue in the grooves.",
                "Close the box as you did dry.",
                "Tighten the cramps by hand.",
                "Wipe off the glue with a damp rag.",
            ),
            checks=(Check("Diagonals", "Tape", "Equal within 2 mm"),),
            if_wrong="Call your teacher at once. You have 5 minutes.",
            minutes=15.0,
            tools=("glue brush", "sash cramp 600 mm"),
        ),
        _step(
            14,
            "cure",
            "Leave the glue to set",
            "gluing-table",
            "gluing",
            ("box/cure/wait",),
            (A, B, C),
            STUDENT,
            kind="wait",
            minutes=720.0,
            guard_line="Leave the cramps on.",
            hazard_line="A knocked box falls. Put it on the rack.",
        ),
        _step(
            15,
            "clean-up",
            "Clean up the outside",
            "benches",
            "hand-planing",
            (),
            (A,),
            STUDENT,
            guard_line=VICE.line,
            holding=(VICE,),
            hazards=(EDGE,),
            hazard_line=EDGE.short,
            wear=(APRON,),
            instructions=(
                "Hold the box in the vice between pads.",
                "Plane from each corner to the middle.",
                "Stop when the pencil marks are gone.",
            ),
            checks=(Check("Outside faces", "Look along the light", "No glue, no marks"),),
            if_wrong="Sharpen or reset the plane.",
            minutes=20.0,
            tools=("smoothing plane",),
        ),
    )


def make() -> tuple[Plan, Job]:
    """The sample plan and the job it is of."""
    job = _job()
    steps = _steps()
    stations = (
        StationCard(
            "saw-1",
            "saw-bench",
            "Saw bench",
            True,
            1,
            STAFF,
            "Staff only. Students stay outside the marked zone.",
            "A piece 300 mm long and 20 mm wide.",
            "Keep both hands at least 150 mm from the blade. Never reach behind it.",
            (
                "Isolate before every setting.",
                "Check riving knife and guard.",
                "Start the extraction.",
                "Clear the table and the floor.",
            ),
            ("The wood binds or lifts.", "The sound changes.", "Anyone comes inside the marked zone."),
            (TUNNEL, RIVING, CROWN, STICK),
            (),
            (BLADE, KICK, DUST),
            (EYES, EARS),
            ("29 CFR 1910.213(c)(1), hood over the blade", "from memory: 150 mm from the blade"),
        ),
        StationCard(
            "drill-1",
            "pillar-drill",
            "Pillar drill",
            True,
            2,
            WATCHED,
            "Students signed off on it, with an adult watching.",
            "A piece 75 mm long and 20 mm wide.",
            "Keep both hands at least 100 mm from the bit. Never hold small work by hand.",
            BEFORE,
            (
                "The wood turns or lifts with the bit.",
                "The bit smokes, squeals or slows down.",
                "Anyone comes inside the marked zone.",
            ),
            (CHUCK,),
            (CLAMP,),
            (TURNING, DUST),
            (EYES, HAIR, GLOVES),
            ("common practice",),
        ),
        StationCard(
            "hand-saws",
            "hand-sawing",
            "Hand sawing",
            False,
            12,
            STUDENT,
            "Students who have been instructed, with an adult in the room.",
            "Any piece that lies firmly on the bench hook.",
            "Keep the holding hand behind the stop.",
            ("Check the saw for loose handles.",),
            ("The wood moves.",),
            (),
            (HOOK,),
            (SAW,),
            (APRON,),
            ("common practice",),
        ),
    )
    risks = (
        RiskRow(
            "circular-blade-contact",
            "Touching the turning blade",
            "A hand meets the turning blade and is cut to the bone.",
            ("operator", "people who help"),
            "severe",
            (2, 3, 4),
            (
                Control("substitute", "Groove with a hand plough where the class is small."),
                Control("engineering", "Tunnel guard over the blade throughout the cut. (steps 3)"),
                Control("engineering", "Push stick for the last 300 mm."),
                Control("administrative", "Staff only; students outside the zone."),
            ),
            (Control("eliminate", "Buy boards already grooved."), Control("isolate", "Machine room with its own door.")),
            ("The wood binds or lifts.", "Anyone comes inside the marked zone."),
            "Press on the wound, raise the arm, call the first aider.",
            ("29 CFR 1910.213(c)(1), hood over the blade", "from memory: guard heights"),
        ),
        RiskRow(
            "entanglement",
            "Caught by turning parts",
            "Hair, a sleeve, a glove, a cord or jewellery winds round a turning part.",
            ("operator", "people leaning over the operator", "technician setting up"),
            "severe",
            (9, 10, 11),
            TURNING.controls,
            (Control("eliminate", "Buy parts already bored."), Control("substitute", "Bore by hand with a brace.")),
            ("Hair or cuffs come loose.",),
            "Stop the machine, do not pull, call the first aider.",
            ("common practice",),
        ),
        RiskRow(
            "edge-tool-cut",
            "Cut by an edge tool",
            "The chisel slips and goes into the holding hand.",
            ("operator",),
            "serious",
            (7, 8, 15),
            (
                Control("engineering", "Wood held in a vice, never in the hand."),
                Control("administrative", "Both hands behind the edge."),
            ),
            (),
            ("The wood moves.",),
            "Press on the wound, call the first aider.",
            ("common practice",),
        ),
        RiskRow(
            "hand-saw-cut",
            "Cut by a hand saw",
            "The saw jumps out of the kerf onto the thumb.",
            ("operator",),
            "minor",
            (1, 5, 6, 8),
            SAW.controls,
            (),
            ("The wood moves.",),
            "Wash and cover the cut.",
            ("from memory",),
        ),
        RiskRow(
            "wood-dust",
            "Breathing wood dust",
            "Fine dust harms lungs and can cause asthma.",
            ("everyone in the room",),
            "serious",
            (3, 10, 11),
            (*DUST.controls, Control("ppe", "Dust mask where extraction is not enough.")),
            (),
            ("Extraction fails.",),
            "Fresh air; tell the first aider about breathing trouble.",
            ("GB limits from memory: softwood 5 mg/m3, hardwood 3 mg/m3",),
        ),
    )
    plan = Plan(
        "1",
        job.name,
        "herb-box.yaml",
        "workshop.yaml",
        ClassLine("Workshop 2", 24, "Year 8", 13, 60.0, "generic"),
        "most-by-students",
        (
            PartLine("side", "A", 2, True, 320.0, 90.0, 15.0, "board", "radiata pine", "softwood", "x"),
            PartLine("end", "B", 2, False, 170.0, 90.0, 15.0, "board", "radiata pine", "softwood", "x"),
            PartLine("floor", "C", 1, False, 302.0, 172.0, 6.0, "panel", "pine plywood", "sheet", "x"),
        ),
        (
            Blank("side", "A", 345.0, 90.0, 15.0, 1, 52, "25 mm over length; 4 spares for 24 students."),
            Blank("end", "B", 700.0, 90.0, 15.0, 3, 18, "Long pieces: a single end is too short to groove by machine."),
            Blank("floor", "C", 302.0, 172.0, 6.0, 1, 26, "Cut to size from the sheet; 2 spares."),
        ),
        _tasks(),
        steps,
        (Reason("side/floor-groove/cut", "side/length/cut", "support", "The long piece can still be held."),),
        stations,
        risks,
        (
            DecisionLine(
                "side/floor-groove", "Cut on the saw bench by staff.", "Head of technology", "Only one plough plane is left."
            ),
        ),
        (LooseThing("felt glide 12 mm", 4, 96), LooseThing("PVA glue 250 ml", 1, 6, True)),
        (
            LooseThing("tenon saw", 1, 24),
            LooseThing("try square", 1, 24),
            LooseThing("marking knife", 1, 24),
            LooseThing("12 mm chisel", 1, 24),
            LooseThing("sash cramp 600 mm", 2, 48),
            LooseThing("router plane", 1, 6, True),
        ),
        ("Depth gauge block 5 mm for the housings.", "Stop block for 320 mm on every bench hook."),
        (
            Finding(
                "warning",
                "staff-must-decide",
                "saw-1",
                "The noise of the saw bench is not stated in the workshop file.",
                "Ear protection depends on it.",
                "Measure it and write it down.",
                None,
                "common practice",
            ),
        ),
        fingerprints={"job": "a1b2c3d4e5f6", **{step.id: f"{step.number:02d}f0c0de" for step in steps}},
    )
    return plan, job
