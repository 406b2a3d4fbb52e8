"""Accounts, the players they stand for, the workshop itself, and what guards the doors."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import ClassVar

from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code

ADULT_AGE = 18


def normal_address(email: str) -> str:
    """Return a mail address as it is stored and compared, the same on every database."""
    return email.strip().casefold()


class Role(models.TextChoices):
    """What a person may do; the words are used as they stand in code and on screen."""

    PLAYER = "player", _("player")
    GUARDIAN = "guardian", _("guardian")
    MAKER = "maker", _("maker")
    BENCH_HAND = "bench_hand", _("bench hand")


HOLDER_ROLES = frozenset({Role.PLAYER, Role.GUARDIAN})
STAFF_ROLES = frozenset({Role.MAKER, Role.BENCH_HAND})


class UserManager(BaseUserManager["User"]):
    """Makes accounts; a holder has no password, a member of staff must have one."""

    def get_by_natural_key(self, username: str | None) -> "User":
        """Find an account by address, however its letters were typed."""
        return self.get(email=normal_address(username or ""))

    def create_holder(self, email: str, *, name: str = "", role: str = Role.PLAYER) -> "User":
        """Make a player's or guardian's account; it is entered by mailed link only."""
        user = self.model(email=normal_address(email), name=name, role=role)
        user.set_unusable_password()
        user.save(using=self._db)
        return user

    def create_staff(self, email: str, *, name: str, role: str, password: str) -> "User":
        """Make a maker's or bench hand's account; the caller has judged the password."""
        user = self.model(email=normal_address(email), name=name, role=role)
        user.set_password(password)
        user.save(using=self._db)
        return user


class User(AbstractBaseUser):
    """An account. The mail address is the name it is known by."""

    email = models.EmailField(_("mail address"), max_length=254, unique=True)
    name = models.CharField(_("name"), max_length=120, blank=True)
    role = models.CharField(_("role"), max_length=12, choices=Role.choices, default=Role.PLAYER)
    is_active = models.BooleanField(_("may sign in"), default=True)
    # Part of what every session is checked against: a new one ends them all.
    session_stamp = models.CharField(max_length=10, default=new_code)
    created_at = models.DateTimeField(default=timezone.now)

    objects: ClassVar[UserManager] = UserManager()

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = []

    class Meta:
        """One account an address, and no role but the four."""

        constraints = (
            models.CheckConstraint(condition=models.Q(role__in=Role.values), name="user_role_known"),
        )

    def __str__(self) -> str:
        return self.name or self.email

    def clean(self) -> None:
        """Store the address in its one form."""
        super().clean()
        self.email = normal_address(self.email)

    @property
    def is_staff_role(self) -> bool:
        """Whether this person works in the workshop."""
        return self.role in STAFF_ROLES

    @property
    def is_maker(self) -> bool:
        """Whether this person owns the workshop."""
        return self.role == Role.MAKER

    @property
    def is_holder(self) -> bool:
        """Whether this is the account of a player or a guardian."""
        return self.role in HOLDER_ROLES

    def get_session_auth_hash(self) -> str:
        """Return what a session must hold to be this account's: password and stamp, signed."""
        return self._session_hash(None)

    def get_session_auth_fallback_hash(self) -> Iterator[str]:
        """Yield the same under each older secret key, so that changing keys signs nobody out."""
        for secret in settings.SECRET_KEY_FALLBACKS:
            yield self._session_hash(secret)

    def _session_hash(self, secret: str | None) -> str:
        held = f"{self.password}|{self.session_stamp}|{self.email}"
        return salted_hmac("orders.people.session", held, secret=secret, algorithm="sha256").hexdigest()


class Player(models.Model):
    """The person a bat is made for; below 18 an adult holds the account."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    holder = models.ForeignKey(User, on_delete=models.PROTECT, related_name="players")
    name = models.CharField(_("name"), max_length=120)
    born = models.DateField(_("date of birth"), null=True, blank=True)
    # How the holder is related to the player; empty when they are the same person.
    relation = models.CharField(_("relation"), max_length=60, blank=True)
    created_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return self.name

    def age_on(self, day: date) -> int | None:
        """Return the full years of age on a day; None when the date of birth is not known.

        Someone born on 29 February has the birthday on 1 March in a common year.
        """
        if self.born is None:
            return None
        return day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))

    def needs_guardian(self, day: date) -> bool:
        """Whether an adult must hold the account and make the agreement on that day."""
        age = self.age_on(day)
        return age is not None and age < ADULT_AGE


class WorkshopManager(models.Manager["Workshop"]):
    """There is one workshop in a database, or none before the first day."""

    def the_one(self) -> "Workshop | None":
        """Return the workshop, or None before it is opened."""
        return self.order_by("pk").first()


class Workshop(models.Model):
    """The workshop whose site this is."""

    # Always 1: the unique column is what keeps a second one out.
    only = models.PositiveSmallIntegerField(default=1, unique=True, editable=False)
    name = models.CharField(_("name of the workshop"), max_length=80)
    place = models.CharField(_("place"), max_length=120)
    country = models.CharField(_("country"), max_length=2)
    email = models.EmailField(_("mail address of the workshop"), max_length=254)
    currency = models.CharField(_("currency"), max_length=3)
    tax_percent = models.DecimalField(_("tax in percent"), max_digits=5, decimal_places=2, default=0)
    prices_with_tax = models.BooleanField(_("prices are shown with tax"), default=True)
    zone = models.CharField(_("time zone"), max_length=64, default="UTC")
    # What most bats cost, in the currency's smallest unit, and how long they take from acceptance on; told
    # before the first question. Nothing is told of what is unset.
    price_from = models.PositiveBigIntegerField(_("bats cost from"), null=True, blank=True)
    price_to = models.PositiveBigIntegerField(_("bats cost up to"), null=True, blank=True)
    wait_weeks_from = models.PositiveSmallIntegerField(_("weeks to wait, at least"), null=True, blank=True)
    wait_weeks_to = models.PositiveSmallIntegerField(_("weeks to wait, at most"), null=True, blank=True)
    opened_at = models.DateTimeField(default=timezone.now)
    version = models.PositiveIntegerField(default=0)

    objects: ClassVar[WorkshopManager] = WorkshopManager()

    class Meta:
        """One row, a tax that is a percentage, and bands that run upwards."""

        constraints = (
            models.CheckConstraint(condition=models.Q(only=1), name="workshop_only_one"),
            models.CheckConstraint(
                condition=models.Q(tax_percent__gte=0, tax_percent__lte=100),
                name="workshop_tax_is_percentage",
            ),
            models.CheckConstraint(
                condition=models.Q(price_to__isnull=True)
                | models.Q(price_from__isnull=False, price_to__gte=models.F("price_from")),
                name="workshop_prices_run_upwards",
            ),
            models.CheckConstraint(
                condition=models.Q(wait_weeks_to__isnull=True)
                | models.Q(wait_weeks_from__isnull=False, wait_weeks_to__gte=models.F("wait_weeks_from")),
                name="workshop_wait_runs_upwards",
            ),
        )

    def __str__(self) -> str:
        return self.name


class SignInLinkQuerySet(models.QuerySet["SignInLink"]):
    """Which links are worth anything."""

    def live(self, now: datetime) -> "SignInLinkQuerySet":
        """Not used, not ended (by a newer one or by wrong codes), not out of date."""
        return self.filter(used_at__isnull=True, ended_at__isnull=True, expires_at__gt=now)


class SignInLink(models.Model):
    """A request to sign in by mail. The link and the short code are only stored hashed.

    ``seed`` is random and no secret: the worker derives link and code from it with the secret key
    when it writes the letter, so that no table ever holds them.
    """

    LIFE = timedelta(minutes=10)
    TRIES = 5

    email = models.EmailField(max_length=254)
    seed = models.CharField(max_length=32, unique=True)
    token_hash = models.CharField(max_length=64, unique=True)
    code_hash = models.CharField(max_length=64)
    browser_hash = models.CharField(max_length=64, db_index=True)
    # Whether an account is made for an address that has none: only where a fitting left it.
    may_create = models.BooleanField(default=False)
    next_path = models.CharField(max_length=200, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    created_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = SignInLinkQuerySet.as_manager()

    class Meta:
        """Found by address when a newer one ends the older."""

        indexes = (models.Index(fields=["email", "created_at"], name="link_by_email"),)

    def __str__(self) -> str:
        return f"sign-in link {self.pk}"


class StaffInvitation(models.Model):
    """A maker's invitation to work in the workshop, or to choose a new password."""

    LIFE = timedelta(hours=48)

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    email = models.EmailField(_("mail address"), max_length=254)
    name = models.CharField(_("name"), max_length=120)
    role = models.CharField(_("role"), max_length=12, choices=Role.choices)
    seed = models.CharField(max_length=32, unique=True)
    token_hash = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="invitations_given")
    created_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """Only staff are invited."""

        constraints = (
            models.CheckConstraint(
                condition=models.Q(role__in=[Role.MAKER, Role.BENCH_HAND]), name="invitation_for_staff"
            ),
        )

    def __str__(self) -> str:
        return f"invitation {self.code}"


class RateBucket(models.Model):
    """How often something was tried in one window of time; the key is a keyed hash."""

    key = models.CharField(max_length=64)
    window = models.DateTimeField()
    count = models.PositiveIntegerField(default=0)
    until = models.DateTimeField(db_index=True)

    class Meta:
        """One row a key and window."""

        constraints = (models.UniqueConstraint(fields=["key", "window"], name="bucket_once_a_window"),)

    def __str__(self) -> str:
        return f"{self.count} since {self.window:%Y-%m-%d %H:%M}"


class OneTimeKey(models.Model):
    """A form that was sent: its key, a hash of what it said, and where the answer led."""

    key = models.CharField(max_length=64, unique=True)
    said = models.CharField(max_length=64)
    # Empty when the answer was not a redirect.
    location = models.CharField(max_length=500, blank=True)
    made_at = models.DateTimeField(default=timezone.now, db_index=True)

    def __str__(self) -> str:
        return f"form sent {self.made_at:%Y-%m-%d %H:%M}"
