"""The interview in words: what is asked, why, how to find it out, and what each choice means.

Keys are those of fitting/questions.py. Sentences are short and plain enough for a ten-year-old.
"""

from dataclasses import dataclass, field

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Text = str | Promise


@dataclass(frozen=True)
class Words:
    """What stands around one question: ``choices`` by key as word and explanation, ``parts`` as labels."""

    ask: Text
    why: Text
    how: Text = ""
    choices: dict[str, tuple[Text, Text]] = field(default_factory=dict)
    parts: dict[str, Text] = field(default_factory=dict)


CHAPTERS: dict[str, Text] = {
    "you": _("You"),
    "game": _("Your game"),
    "pitches": _("Ground and ball"),
    "hands": _("Your hands"),
    "bat": _("The bat you use"),
    "wishes": _("What you wish"),
}

PAGES: dict[str, Text] = {
    "you": _("You"),
    "growing": _("Growing, and the bat in use"),
    "game": _("Your game"),
    "pitches": _("Your pitches"),
    "wear": _("What it has to stand"),
    "hands": _("Your hands on the handle"),
    "bat": _("The bat you use"),
    "bat-measured": _("The bat you use, measured"),
    "bat-face": _("Where the ball meets it"),
    "wish": _("What comes first"),
    "wish-blade": _("What you wish of the blade"),
    "wish-handle": _("What you wish of the handle"),
    "wish-looks": _("Its face, and its looks"),
}

LENGTHS: dict[str, tuple[Text, Text]] = {
    "size_1": (_("size 1"), ""),
    "size_2": (_("size 2"), ""),
    "size_3": (_("size 3"), ""),
    "size_4": (_("size 4"), ""),
    "size_5": (_("size 5"), ""),
    "size_6": (_("size 6"), ""),
    "harrow": (_("harrow"), _("between size 6 and an adult bat")),
    "small_adult": (_("small adult"), _("between harrow and short handle")),
    "super_short": (_("super short"), _("full blade, shorter handle")),
    "short_handle": (_("short handle"), _("the usual adult bat")),
    "long_handle": (_("long handle"), _("full blade, longer handle")),
    "long_blade": (_("long blade"), _("longer blade, usual handle")),
    "long_handle_long_blade": (_("long handle, long blade"), _("both longer: for the very tall")),
    "long_handle_short_blade": (_("long handle, short blade"), _("a quick swing, for hitting")),
}
THICKNESSES: dict[str, tuple[Text, Text]] = {
    "thin": (_("thin"), ""),
    "medium": (_("medium"), ""),
    "thick": (_("thick"), ""),
}
YES_NO: dict[str, tuple[Text, Text]] = {"yes": (_("yes"), ""), "no": (_("no"), "")}
SHOTS: dict[str, Text] = {
    "straight_drive": _("straight drive"),
    "drive_on_the_up": _("drive on the up"),
    "back_foot_punch": _("punch off the back foot"),
    "cut": _("cut"),
    "pull_and_hook": _("pull and hook"),
    "sweep": _("sweep"),
    "lofted": _("lofted stroke"),
    "leg_glance": _("glance off the legs"),
}


def _plain(words: dict[str, Text]) -> dict[str, tuple[Text, Text]]:
    return {key: (word, "") for key, word in words.items()}


WORDS: dict[str, Words] = {
    "age": Words(
        _("How old are you?"),
        _("Under 18 we fit the bat to a body that still grows, ask far less, and an adult agrees to it."),
        _("In whole years. Is it for a child? Then “you” is the child."),
    ),
    "height": Words(
        _("How tall are you?"),
        _("Height decides the length of the bat before anything else does."),
        _("Barefoot, at a wall. As you like: 175 cm, 1.75 m, 5'9\", 5 ft 9."),
    ),
    "batting_hand": Words(
        _("Which way round do you bat?"),
        _("It tells us which edge faces out, where extra tape goes, and which way to draw the bat."),
        choices={"right": (_("right-handed"), ""), "left": (_("left-handed"), "")},
    ),
    "level": Words(
        _("Which cricket is this bat for?"),
        _("It decides which bats the Laws allow and what an umpire may check."),
        _("If it is for several, the highest of them."),
        choices={
            "junior": (_("junior cricket"), _("matches for under-18s")),
            "club": (_("club cricket"), _("leagues, schools, friendlies")),
            "first_class": (_("first-class"), ""),
            "international": (_("international"), ""),
        },
    ),
    "play_from": Words(
        _("When do you want to play with it first?"),
        _("The Laws change on a date, and yours is measured against those in force on that day."),
        _("A rough day is good enough."),
    ),
    "wrist_height": Words(
        _("How high is your wrist above the floor?"),
        _("It shows how long a bat may be that stands on the ground beside you."),
        _("To the crease of the wrist, arm hanging: 62 cm, 24½ in."),
    ),
    "inside_leg": Words(
        _("How long is the inside leg?"),
        _("A child with long legs may take the next size up a little sooner."),
        _("From the floor to the top of the inside of the leg, in socks: 66 cm, 26 in."),
    ),
    "hand_length": Words(
        _("How long is your hand?"),
        _("A big hand closes well round a thick handle, a small one round a thin one."),
        _("From the crease of the wrist to the tip of the middle finger: 19 cm, 7½ in."),
    ),
    "strength": Words(
        _("Late in a long innings, how heavy a bat still goes where you want it?"),
        _("It says how light your bat must lift when you are tired. It never makes a bat heavier."),
        _("Think of the bats you have used for an hour or more, not of what you can lift."),
        choices={
            "light": (_("under 2 lb 7"), _("under some 1100 g")),
            "average": (_("2 lb 7 to 2 lb 10"), _("some 1100 to 1190 g")),
            "strong": (_("over 2 lb 10"), _("over some 1190 g")),
        },
    ),
    "batting_place": Words(
        _("Where do you bat in the order?"),
        _("A new hard ball and an old soft one ask for different bats."),
        choices={
            "opener": (_("opening"), ""),
            "top_order": (_("three or four"), ""),
            "middle_order": (_("five to seven"), ""),
            "lower_order": (_("eight or lower"), ""),
        },
    ),
    "approach": Words(
        _("How do you make your runs?"),
        _("A bat for timing and a bat for hitting carry their wood in different places."),
        choices={
            "patient": (_("I wait for the bad ball"), ""),
            "balanced": (_("I take what the ball offers"), ""),
            "attacking": (_("I look to score off most balls"), ""),
            "big_hitting": (_("I clear the ropes"), ""),
        },
    ),
    "overs_mix": Words(
        _("How many matches of each did you play last season?"),
        _("Long innings reward a bat that stays easy to lift; short ones a bat that hits hardest."),
        _("A rough count is enough. Indoor and evening games count with the short ones."),
        parts={
            "long": _("all day or longer"),
            "fifty": _("40 to 50 overs"),
            "twenty": _("20 overs or fewer"),
        },
    ),
    "shots": Words(
        _("Which three strokes bring most of your runs?"),
        _("They show where on the blade you meet the ball, and so where its best spot should lie."),
        _("In order, the best first. Fewer than three is fine."),
        choices=_plain(SHOTS),
    ),
    "ball": Words(
        _("Which balls will it meet?"),
        _("Machine balls are harder on willow than leather is. It decides how the bat is protected."),
        _("Tick all that it will meet, nets among them."),
        choices={
            "hard": (_("hard leather"), ""),
            "machine": (_("machine or hard practice balls"), ""),
            "soft": (_("soft balls"), ""),
        },
    ),
    "bounce": Words(
        _("Off a good length, how high does the quicker bowlers' ball reach you?"),
        _("The height at which you meet the ball is the height of the best spot on the blade."),
        _("Think of the ground where you bat most, and of most balls, not of the odd one."),
        choices={
            "low": (_("the knee roll of the pads, or lower"), ""),
            "medium": (_("thigh"), ""),
            "high": (_("waist or higher"), ""),
            "varied": (_("no two alike, on one and the same ground"), ""),
        },
    ),
    "surface": Words(
        _("What do you bat on most?"),
        _("Hard ground is rough on the toe; turf can be damp. Both decide how the toe is made."),
        _("Your home ground first, and the nets if you are there more often."),
        choices={
            "turf": (_("turf"), ""),
            "artificial": (_("artificial grass"), ""),
            "matting": (_("matting"), ""),
            "concrete": (_("concrete"), ""),
        },
    ),
    "outfield_grass": Words(
        _("How long is the grass of your outfields?"),
        _("Over long grass the ball has to be lifted, and a bow in the blade helps with that."),
        choices={"short": (_("short"), ""), "medium": (_("medium"), ""), "long": (_("long"), "")},
    ),
    "often_damp": Words(
        _("Is the ground often damp when you play?"),
        _("Willow drinks water from the toe up. It tells us how to seal it."),
        choices=YES_NO,
    ),
    "nets_hours": Words(
        _("How many hours a week will it spend in the nets?"),
        _("Practice wears a bat as matches do. It decides how the edges are protected."),
        _("A number, 2 or 2.5. Put 0 for matches only."),
    ),
    "hands": Words(
        _("Hold the bat as you bat. How much of the handle shows above your top glove?"),
        _("Where your hands sit decides which length of bat brings the blade to the ball."),
        _("Lay the fingers of somebody's hand across the rubber, from the top of the glove upwards."),
        choices={
            "top": (_("one finger, or nothing"), _("at the top")),
            "middle": (_("two or three fingers"), _("in the middle")),
            "bottom": (_("four fingers or more"), _("low down")),
        },
    ),
    "tightness": Words(
        _("How tightly do you hold it?"),
        _("A tight hand likes a thinner handle, a light one can take more."),
        choices={
            "light": (_("lightly"), _("it could be pulled from your hands")),
            "firm": (_("firmly"), ""),
            "tight": (_("tightly"), _("your knuckles show")),
        },
    ),
    "stance": Words(
        _("How do you stand?"),
        _("A longer handle lets you stand more upright; a crouch wants less of it."),
        choices={
            "upright": (_("upright"), ""),
            "medium": (_("knees a little bent"), ""),
            "crouched": (_("crouched"), ""),
        },
    ),
    "leading_hand": Words(
        _("Which hand does the work?"),
        _("It decides the handle's shape under that hand, and how much weight the toe may carry."),
        choices={
            "top": (_("the top hand"), _("you guide the ball")),
            "bottom": (_("the bottom hand"), _("you hit through it")),
        },
    ),
    "taps_ground": Words(
        _("Do you tap the bat on the ground while you wait?"),
        _("Tapping wears the toe. It then gets a stronger one and a guard."),
        choices={"yes": (_("yes"), ""), "no": (_("no, I hold it up"), "")},
    ),
    "bat_liked": Words(
        _("What would you change about the bat you use now?"),
        _("A bat that works is where we start from; we then change two things at most."),
        choices={
            "yes": (_("little or nothing"), _("we start from it")),
            "no": (_("much"), _("we start anew, and learn from it")),
            "none": (_("I have no bat"), ""),
        },
    ),
    "bat_length": Words(
        _("Which length is it?"),
        _("It is the length your eyes and hands are used to."),
        _("It is often written on the back or the handle."),
        choices=LENGTHS,
    ),
    "bat_pickup": Words(
        _("Late in a long innings, how does it lift?"),
        _("This says more about the mass you need than how strong you are."),
        choices={
            "too_heavy": (_("too heavy"), ""),
            "right": (_("just right"), ""),
            "too_light": (_("too light"), ""),
        },
    ),
    "bat_handle": Words(
        _("How does its handle feel?"),
        _("A handle that fits lets the hands work without gripping hard."),
        choices={
            "too_thin": (_("too thin"), ""),
            "right": (_("just right"), ""),
            "too_thick": (_("too thick"), ""),
        },
    ),
    "broke_at": Words(
        _("How have bats of yours come to their end?"),
        _("We put wood and protection where yours give way."),
        _("Tick what has happened. Nothing broken yet: leave it."),
        choices={
            "toe": (_("at the toe"), _("yorkers, tapping, damp ground")),
            "edge": (_("at an edge"), _("balls that were not met in the middle")),
            "face": (_("the face cracked or peeled"), _("hard balls, or simply worn")),
            "handle": (_("the handle broke or came loose"), ""),
            "splice": (_("at the splice"), _("where handle and blade meet")),
        },
    ),
    "bat_mass": Words(
        _("What does it weigh?"),
        _("Your new bat is set beside it, gram by gram."),
        _("On a kitchen scale, with grip and all: 1160 g, 1.16 kg, 2lb 9."),
    ),
    "bat_overall": Words(
        _("How long is it?"),
        _("Length and balance together tell how heavy it feels."),
        _("From the toe to the top of the handle: 85 cm, 33½ in."),
    ),
    "bat_balance": Words(
        _("Where does it balance?"),
        _("Two bats of one mass can lift quite differently; the balance is why."),
        _("With two pencils and a kitchen scale, as drawn. Or type where you found it balances."),
        parts={
            "reading": _("What the scale shows under the blade"),
            "place": _("Or: the balance, measured from the toe"),
        },
    ),
    "bat_girth": Words(
        _("How far is it round the handle, grip and all?"),
        _("What you hold now is the best measure of what to hold next."),
        _("A tape or a strip of paper once round the middle of the grip: 12 cm, 4¾ in."),
    ),
    "bat_sweet_spot": Words(
        _("Where does it sting or go dead on you?"),
        _("It shows whether the best spot of your bat lies where you meet the ball."),
        _("Think of strokes that you played well."),
        choices={
            "too_high": (_("down towards the toe"), _("its best spot lies too high for you")),
            "too_low": (_("up towards the splice"), _("its best spot lies too low for you")),
            "edge": (_("out at an edge only"), _("that tells of the stroke, not of the height")),
            "right": (_("nowhere, it seldom stings"), _("its best spot lies where you hit")),
        },
    ),
    "ball_marks": Words(
        _("How far above the toe are the ball marks on its face?"),
        _("Marks are the truest witness of where you meet the ball."),
        _("A few of them, with their unit: 18 cm, 21 cm, 24 cm. Leave it if face or film is new."),
    ),
    "pendulum": Words(
        _("How does it swing on the knife edge?"),
        _("With its balance, timed swings tell the pickup better than the balance alone."),
        _("Workshop only. The balance by hand is still needed: answer that above too."),
        parts={
            "pivot": _("From the handle's top down to the knife edge"),
            "swings": _("Swings counted, over and back is one"),
            "seconds": _("Seconds taken"),
        },
    ),
    "wish_mass": Words(
        _("Do you have a mass in mind?"),
        _("A wish of yours stands above our rules; we tell you what it costs."),
        _("One or both: 2lb 8, 1130 g."),
        parts={"min": _("at least"), "max": _("at most")},
    ),
    "wish_length": Words(
        _("Do you have a length in mind?"),
        _("Left open, it follows from your height, your hands and how you stand."),
        choices=LENGTHS,
    ),
    "easy_on_joints": Words(
        _("Should it be kind to wrist, elbow, shoulder and back?"),
        _("A softer handle and a lighter lift sting less. You need not tell us why."),
        choices=YES_NO,
    ),
    "wish_looks": Words(
        _("How fine should the willow look?"),
        _("Grade is looks and price. A plainer piece with one clean middle plays as well."),
        choices={
            "1": (_("the finest"), _("straight grain, hardly a mark")),
            "2": (_("fine"), _("a mark or two")),
            "3": (_("plain"), _("marks and some stain")),
            "4": (_("whatever plays"), _("marks, stain, uneven grain")),
        },
    ),
    "wish_grain": Words(
        _("Few wide grains or many narrow ones?"),
        _("A matter of the eye. Tell us and we look for it on the rack."),
        choices={"few": (_("few, wide"), ""), "many": (_("many, narrow"), "")},
    ),
    "wish_sweet_spot": Words(
        _("Where should the best spot lie?"),
        _("Left open, it follows from your pitches and your strokes."),
        choices={
            "low": (_("low"), _("for straight play and low pitches")),
            "mid": (_("in the middle"), _("useful low, and reaches higher")),
            "high": (_("high"), _("for bounce, and quicker to swing")),
            "long": (_("long"), _("more margin, and more mass")),
        },
    ),
    "wish_profile": Words(
        _("How should the back of the blade be shaped?"),
        _("It is where the wood is kept. Left open, it follows from how you make your runs."),
        choices={
            "tapered_spine": (_("the spine fades out before the toe"), _("quick, for the orthodox batter")),
            "spine_to_toe": (_("the spine runs on to the toe"), _("a little more wood low down")),
            "scalloped": (
                _("hollow, wood gathered in the middle"),
                _("much for its mass, for the one who times it"),
            ),
            "full": (_("full, wood all along"), _("for the hitter, and heavier")),
        },
    ),
    "wish_edges": Words(
        _("How thick should the edges be?"),
        _("Thick edges look more than they do; the wood they take is missing elsewhere."),
        choices=THICKNESSES,
    ),
    "wish_bow": Words(
        _("How much bow should the blade have?"),
        _("A bow helps to lift the ball, but the best spot comes out slightly smaller."),
        choices={
            "none": (_("none"), _("flat along its length")),
            "slight": (_("slight"), _("what the press leaves by itself")),
            "full": (_("full"), _("for lofted strokes")),
        },
    ),
    "wish_face": Words(
        _("Flat or rounded across the face?"),
        _("A flat face is pressed evenly and feels harder; a rounded one is kinder towards the edges."),
        choices={"flat": (_("flat"), ""), "rounded": (_("rounded"), "")},
    ),
    "wish_toe": Words(
        _("A light toe or a strong one?"),
        _("A thick toe chips less, a slim one lifts easier and breaks sooner."),
        choices={"light": (_("light"), ""), "strong": (_("strong"), "")},
    ),
    "wish_section": Words(
        _("Which shape should the handle have?"),
        _("Round lets the hand turn, oval holds the face straight."),
        choices={
            "round": (_("round"), ""),
            "oval": (_("oval"), ""),
            "round_to_oval": (_("round on top, oval below"), _("the usual one")),
        },
    ),
    "wish_thickness": Words(
        _("How thick should the handle be?"),
        _("Left open, it follows from your hand and the bat you use."),
        choices=THICKNESSES,
    ),
    "wish_feel": Words(
        _("How should the handle feel when you hit?"),
        _("It decides what is glued between the canes of the handle."),
        choices={
            "traditional": (_("springy"), _("plain cane, the familiar feel")),
            "balanced": (_("light in the hands"), _("a lightened handle, the bat keeps its power")),
            "stiff": (_("stiff"), _("a stiffened handle, for the most power")),
        },
    ),
    "wish_grips": Words(
        _("How many grips?"),
        _("Each grip adds thickness and some 50 g in your hands, which makes the blade feel lighter."),
        choices={"1": (_("one"), ""), "2": (_("two"), ""), "3": (_("three"), "")},
    ),
    "gives_way": Words(
        _("If the willow will not give everything, what may give way first?"),
        _("No piece of willow gives all of it. This is the most useful thing you can tell us."),
        _("In order, what matters least to you first. You may stop after one."),
        choices={
            "mass": (_("the mass"), ""),
            "edges": (_("the size of the edges"), ""),
            "pickup": (_("how it lifts"), ""),
            "looks": (_("its looks"), ""),
            "life": (_("how long it lasts"), ""),
            "date": (_("the date"), ""),
        },
    ),
}

# Asked of somebody under 18 in other words.
JUNIOR_WORDS: dict[str, Words] = {
    "level": Words(
        _("Is it for junior cricket only?"),
        _("Some bats are for junior games alone. The Laws say which."),
        choices={
            "junior": (_("yes, junior games only"), ""),
            "club": (_("no, games with adults too"), ""),
            "first_class": (_("first-class games too"), ""),
            "international": (_("games for a country too"), ""),
        },
    ),
    "strength": Words(
        _("Hold a bat straight out in the top hand alone. How long before it dips?"),
        _("It tells us how light the bat should lift. Lighter is safer."),
        _("Any bat that is in use will do. Stop when it gets hard to hold."),
        choices={
            "light": (_("under 10 seconds"), _("we lean to a lighter lift")),
            "average": (_("10 to 20 seconds"), ""),
            "strong": (_("longer"), ""),
        },
    ),
    "bat_pickup": Words(
        _("How does the bat in use lift?"),
        _("A bat that is too heavy spoils the swing and tires the arms."),
        _("No bat yet? Then pick not sure."),
        choices={
            "too_heavy": (_("too heavy"), ""),
            "right": (_("just right"), ""),
            "too_light": (_("too light"), ""),
        },
    ),
    "bat_mass": Words(
        _("What does the bat in use weigh?"),
        _("We set a top for the weight, and start from this."),
        _("On a kitchen scale, with grip and all: 850 g, 1 lb 14."),
    ),
}


def words_for(key: str, *, junior: bool) -> Words:
    """Return the words of a question as they are put to an adult or to somebody under 18."""
    return JUNIOR_WORDS.get(key, WORDS[key]) if junior else WORDS[key]


UNSURE: Text = _("not sure")
