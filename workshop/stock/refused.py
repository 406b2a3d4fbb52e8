"""Why the store did not do what was asked, as a key; words.py words it."""

from orders.commissions.refusals import Refused


class StockRefused(Refused):
    """A verb of the store that was not carried out; nothing was written.

    ``key`` says why: ``not_now`` (its state), ``meanwhile`` (somebody was quicker), ``bat_has_one``,
    ``no_handle``, ``number_taken``, ``needs_words``, ``nothing``, ``not_whole``, ``not_enough``, ``past``,
    ``taken_back``, ``unknown_length``, ``too_much``.
    """
