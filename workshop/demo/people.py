"""The invented workshop and its invented people."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from orders.people.models import Player, Role, User, Workshop
from orders.people.opening import FirstDay, open_workshop
from orders.people.players import add_player

WORKSHOP_EMAIL = "bench@osierdale.example"
MAKER_EMAIL = "maker@osierdale.example"
BENCH_HAND_EMAIL = "bench-hand@osierdale.example"
SECOND_HAND_EMAIL = "second-hand@osierdale.example"
PLAYER_EMAIL = "player@willow-lane.example"
GUARDIAN_EMAIL = "guardian@willow-lane.example"
SECOND_GUARDIAN_EMAIL = "guardian2@willow-lane.example"
# Known to whoever reads this file: the demo refuses to run where the site can be reached from outside.
MAKER_PASSWORD = "six clefts of willow"  # noqa: S105
BENCH_HAND_PASSWORD = "one mallet and a rasp"  # noqa: S105

FIRST_DAY = FirstDay(
    name="Osierdale Bats",
    place="The Old Drying Shed, Osierdale",
    country="GB",
    email=WORKSHOP_EMAIL,
    currency="GBP",
    tax_percent=Decimal("20.00"),
    prices_with_tax=True,
    zone="Europe/London",
    maker_name="Tamsin Hollowell",
    maker_email=MAKER_EMAIL,
    maker_password=MAKER_PASSWORD,
)

# What the workshop states before a fitting; the prices and dates of its proposals lie within.
STATED = {"price_from": 21500, "price_to": 56000, "wait_weeks_from": 6, "wait_weeks_to": 8}

FIRST_NAMES = [
    "Alder",
    "Briony",
    "Corin",
    "Dilys",
    "Evander",
    "Fern",
    "Garrick",
    "Hesper",
    "Idris",
    "Juno",
    "Kestrel",
    "Linnet",
    "Merrick",
    "Nerys",
    "Orrin",
    "Petra",
    "Quill",
    "Rowan",
    "Sorrel",
    "Tarn",
    "Una",
    "Vesper",
    "Wynn",
    "Xanthe",
    "Yarrow",
    "Zennor",
    "Aspen",
    "Bracken",
    "Clover",
    "Dunstan",
    "Elowen",
    "Fennel",
]
LAST_NAMES = [
    "Ashgrove",
    "Birkmoor",
    "Coppinger",
    "Dellwood",
    "Elmhurst",
    "Fallowby",
    "Gorsefield",
    "Hazelrigg",
    "Ivybridge",
    "Larkstoke",
    "Mosswell",
    "Nettlecombe",
    "Oakenfell",
    "Pinfold",
    "Quarrier",
    "Rushbrook",
    "Sedgeley",
    "Thistlewood",
    "Underhay",
    "Withycombe",
    "Yewdale",
    "Brambleden",
    "Cloverley",
    "Dockray",
    "Eddishaw",
    "Fernyhalgh",
    "Greenhow",
    "Heathcote-Moss",
    "Inchfield",
    "Junipar",
    "Kelderby",
    "Lowmoss",
]


@dataclass(frozen=True)
class Staff:
    """Who works there."""

    maker: User
    bench_hand: User
    second_hand: User

    def hand(self, number: int) -> User:
        """Return one of the two at the bench, by turns."""
        return (self.bench_hand, self.second_hand)[number % 2]


@dataclass(frozen=True)
class Child:
    """A guardian's child, as old as a fitting is made for."""

    name: str
    age: int
    relation: str


# Whose guardian is told how to sign in has two; another has one.
CHILDREN: dict[str, tuple[str, tuple[Child, ...]]] = {
    GUARDIAN_EMAIL: (
        "Maris Brackenbury",
        (Child("Robin Brackenbury", 11, "mother"), Child("Wren Brackenbury", 14, "mother")),
    ),
    SECOND_GUARDIAN_EMAIL: ("Hale Stackpole", (Child("Teal Stackpole", 9, "grandfather"),)),
}


def open_demo(at: datetime) -> Staff:
    """Open the workshop, with its maker and two bench hands."""
    workshop, maker = open_workshop(FIRST_DAY)
    Workshop.objects.filter(pk=workshop.pk).update(opened_at=at, **STATED)
    bench_hand = User.objects.create_staff(
        BENCH_HAND_EMAIL, name="Jory Pellow", role=Role.BENCH_HAND, password=BENCH_HAND_PASSWORD
    )
    second_hand = User.objects.create_staff(
        SECOND_HAND_EMAIL, name="Merryn Tolcarne", role=Role.BENCH_HAND, password=BENCH_HAND_PASSWORD
    )
    User.objects.filter(pk__in=(maker.pk, bench_hand.pk, second_hand.pk)).update(created_at=at)
    return Staff(maker, bench_hand, second_hand)


def grown_player(number: int, *, at: datetime) -> Player:
    """Enter a grown player with an account of their own; the first one is told how to sign in."""
    first = FIRST_NAMES[number % len(FIRST_NAMES)]
    last = LAST_NAMES[(7 * number + number // len(FIRST_NAMES)) % len(LAST_NAMES)]
    name = f"{first} {last}"
    email = PLAYER_EMAIL if number == 0 else f"{name.lower().replace(' ', '.')}@willow-lane.example"
    holder = User.objects.create_holder(email, name=name)
    player = add_player(holder, name=name, born=None, today=at.date())
    _as_of(holder, player, at)
    return player


def children_of(email: str, *, today: date, at: datetime) -> list[Player]:
    """Enter a guardian with children."""
    name, children = CHILDREN[email]
    holder = User.objects.create_holder(email, name=name, role=Role.GUARDIAN)
    found = []
    for child in children:
        # Two hundred days past the birthday, so that the age is the same at every date of the story.
        birthday = today - timedelta(days=200)
        born = birthday.replace(year=birthday.year - child.age, day=min(birthday.day, 28))
        player = add_player(holder, name=child.name, born=born, relation=child.relation, today=today)
        _as_of(holder, player, at)
        found.append(player)
    return found


def _as_of(holder: User, player: Player, at: datetime) -> None:
    User.objects.filter(pk=holder.pk).update(created_at=at)
    Player.objects.filter(pk=player.pk).update(created_at=at)
