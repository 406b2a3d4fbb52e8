"""The facts of the trade as sentences for a cricketer: why a choice was made. Keys: fitting/facts.py."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Text = str | Promise

LENGTH: dict[str, Text] = {
    "length.short_handle": _("From about 5 ft 6 in to 5 ft 10 in a standard short handle fits most people."),
    "length.super_short": _(
        "Between about 5 ft 4 in and 5 ft 6 in a super short handle usually fits; where you grip decides."
    ),
    "length.long_handle": _(
        "Held near its top, a longer handle brings the middle of the blade lower and lets you stand taller."
    ),
    "length.long_blade": _(
        "Tall, with a low grip: a longer blade keeps the ball from meeting it too far up."
    ),
    "length.both_long": _("From about 6 ft 7 in handle and blade may both be long."),
    "length.long_handle_short_blade": _(
        "A longer handle on a shorter blade comes round faster, which suits hitting in twenty overs."
    ),
    "length.between": _(
        "Above 5 ft 10 in a short handle still serves most people up to about 6 ft 2 in; "
        "beyond that a long handle."
    ),
    "length.small_adult": _("For a smaller adult the size goes by strength and reach as much as by height."),
    "length.junior_table": _("Junior sizes go by barefoot height; between two sizes take the smaller."),
    "length.between_sizes": _(
        "Close to the next size, reach and strength decide: long arms and legs, or a strong hold, take it."
    ),
    "length.table": _("The workshop's usual measure for this length of bat."),
}

BLADE: dict[str, Text] = {
    "sweet_spot.high": _("Where the ball climbs, or you live off the back foot, it meets the bat higher up."),
    "sweet_spot.mid": _("A middle in the usual place serves low balls and reaches higher ones too."),
    "sweet_spot.low": _("Straight play and low, slow pitches meet the ball low on the blade."),
    "sweet_spot.long": _("Driving on the up asks for a long middle: it forgives more."),
    "sweet_spot.size_costs_mass": _("A bigger middle makes a heavier bat."),
    "sweet_spot.marks": _("The ball marks on the bat you use show where you meet the ball."),
    "sweet_spot.present": _("You told us where the middle of the bat you use sits for you."),
    "sweet_spot.peak_found": _(
        "Where this bat hits hardest is computed from its shape, its handle and its willow: it lies near the "
        "thickest point, not at it."
    ),
    "position.numbers": _("Makers place the thickest point so far above the toe for this choice."),
    "profile.tapered_spine": _(
        "A spine that fades out before the toe is quick and pays for sound, orthodox play."
    ),
    "profile.spine_to_toe": _("A spine kept up to the toe leaves a little more wood low down."),
    "profile.scalloped": _(
        "Wood gathered in the middle gives much power for its mass, for somebody who times the ball."
    ),
    "profile.full": _("Wood kept all along the blade is for hitting big."),
    "profile.before_edges": _(
        "Thick edges add little: what counts is a middle that lies where you meet the ball."
    ),
    "bow.for": _("A bow helps lofted strokes, over the fielders and over long grass."),
    "bow.against": _("A bow costs a second pressing and makes the middle a touch smaller."),
    "bow.resting": _("A slight bow is what the press leaves by itself, and suits most."),
    "bow.peak": _("The bow is deepest where the press can reach: in the middle of the blade."),
    "face.flat": _("A flat face is pressed evenly from edge to edge and can feel harder."),
    "face.rounded": _("A rounded face is pressed towards its edges too, which widens the middle."),
    "face.resting": _("A face very slightly rounded is what the press leaves by itself."),
    "edge.radius": _("Corners are rounded so that they do not splinter."),
    "shoulder.default": _("The shoulders leave enough wood beside the handle's splice."),
    "toe.standard": _("A toe of the usual thickness."),
    "toe.thick": _("A thicker toe is stronger: hard ground, tapping and yorkers chip a thin one."),
    "toe.thin": _("A slim toe lifts more easily."),
    "toe.scoop": _("A scooped toe saves about an ounce low down; it helps a full blade lift better."),
    "toe.whole": _(
        "The back stays whole above the toe; a scoop is for a full blade that should lift better."
    ),
    "toe.corner": _("The corners of the toe are rounded, so that they do not break out."),
    "width.default": _("As wide as the Laws allow, less a margin: willow swells a little in the damp."),
    "width.under_tape": _("A little narrower, to leave room for the tape along the edges."),
    "wishes.numbers": _("What makers usually mean by this word."),
    "laws.sizes": _("The Laws of Cricket set the greatest size."),
}

HANDLE: dict[str, Text] = {
    "handle.section": _("The usual handle is round under the top hand and turns oval towards the blade."),
    "handle.oval": _("Slightly deeper than wide: it tells your hands which way the face looks."),
    "handle.thick": _("Thicker for big hands, or for more control."),
    "handle.thin": _("Thinner for small hands or a tight grip."),
    "handle.hand": _(
        "People grip best on a handle about a fifth as thick as the hand is long. "
        "That was measured on plain cylinders, so take it as a start."
    ),
    "handle.table": _("The usual thickness for this length of bat."),
    "handle.plain_cane": _("Plain cane gives the feel that everybody knows."),
    "handle.lightened_cane": _("A lightened handle balances the bat better while the blade keeps its power."),
    "handle.stiffened_cane": _("A stiffened handle is chosen for the most performance."),
    "handle.soft_first": _("Sore hands and hard pitches ask for a softer handle first."),
    "handle.splice": _("The splice is as wide as the blade can carry."),
    "handle.line": _("The handle stands straight in line with the blade."),
    "handle.strips": _("Strips of rubber between the canes soften the sting."),
    "handle.weighed_later": _("The handle is weighed at the bench, when it is chosen."),
    "grips.one": _("One grip is the usual; a second makes the handle thicker."),
}

MASS: dict[str, Text] = {
    "mass.adult": _("The usual mass for this length of bat."),
    "mass.lighter": _("The bat you use feels too heavy, so this one is lighter."),
    "mass.heavier": _("The bat you use feels too light, so this one is a little heavier."),
    "mass.joints": _("A lighter bat is kinder to wrist, elbow, shoulder and back."),
    "mass.light_player": _("At the lighter end: a bat that you can still lift late in a long innings."),
    "mass.not_liked": _("Between the bat you use, which you do not like, and the usual mass."),
    "mass.other_size": _("Moved from the mass of your present size to that of the new one."),
    "limits.mass": _("Kept inside what the trade makes in this length."),
    "pickup.from_shape": _("What this shape at this mass comes to in the hands."),
    "pickup.present_estimate": _("Worked out from the mass, balance and length of the bat you use."),
    "pickup.present_swings": _("Worked out from the timed swings of the bat you use."),
    "pickup.swings_refused": _(
        "Its timed swings cannot be right, or are too few: mass, balance and length say more."
    ),
    "pickup.felt": _("You told us how the bat you use feels to pick up."),
    "willow.density": _("Willow of middling density tends to play best and to last longest together."),
    "willow.match": _("The cleft is chosen to suit the shape and the mass."),
    "willow.grain": _("Few lines or many: grain says little about how a bat plays; say so if you mind."),
    "edge.outside": _("The outside edge meets most of the wear: it gets the sounder side of the cleft."),
    "willow.grade": _(
        "Grade is about looks more than play: one clean middle in a plainer cleft is the better buy."
    ),
    "willow.moisture": _("Willow is worked at about 10 to 12 % moisture."),
    "solve.mass": _("The blade is made as full as the mass allows."),
    "solve.fullness": _("All depths are worked out together so that the finished bat weighs what it should."),
    "solve.scallop": _("How hollow the back is follows from the profile and the mass."),
    "solve.nearest": _("No shape comes to the mass first aimed at; this is the nearest."),
    "pressing.each": _("Every piece of willow is pressed alone and listened to."),
}

REST: dict[str, Text] = {
    "protect.toe_guard": _("A toe guard keeps part of the damp out, though not all of it."),
    "protect.face_film": _("A film shields the face and keeps drizzle out."),
    "protect.edge_tape": _("The edges take most of the damage; fibre tape along them helps."),
    "protect.natural_face": _("On dry ground the bare, oiled face does well."),
    "prior.present_bat": _("Your present bat works for you, so this one starts from it."),
    "child.simple": _("For a child the length, the mass and a thin handle matter; the rest stays simple."),
    "child.thin_handle": _("A thin handle for small hands."),
    "child.lighter": _("For a young player lighter is safer than heavier."),
    "child.mass_ceiling": _("A child's bat never goes above the usual mass of its size."),
    "care.oil": _("Thin coats of raw linseed oil, a day between them."),
    "care.oil_under_film": _("Less oil under a film, so that the film holds."),
    "care.knock_in": _("The workshop begins the knocking-in; the rest is yours."),
    "care.store": _("Store it away from heat and damp."),
    "returns.make_right": _("A bat that does not please comes back and is put right."),
    "default.unanswered": _("Nothing was said about this, so it is what the trade usually does."),
    "wish.followed": _("You asked for it."),
}

FACT_WORDS: dict[str, Text] = {**LENGTH, **BLADE, **HANDLE, **MASS, **REST}
