"""From occasions to a student's record: episodes, rates, diagnosis. No input or output here."""

from fastness.record.causes import HABITS, OWN_CAUSES
from fastness.record.corrections import (
    Correction,
    MoveCorrection,
    MoveVerdict,
    Said,
    apply_corrections,
    corrected_games,
)
from fastness.record.diagnosis import (
    Diagnosis,
    Finding,
    LookedThrough,
    diagnose,
    diagnose_among,
    looked_through,
)
from fastness.record.episode import (
    PHASES,
    Episode,
    Phase,
    all_episodes,
    episodes_of,
    nothing_to_hold,
)
from fastness.record.examples import best_examples, held_examples
from fastness.record.expected import Results, expected_score, results
from fastness.record.groups import rates_by, ways_used
from fastness.record.periods import Change, Period, before_and_after, halves, trend
from fastness.record.plan import Theme, months_plan
from fastness.record.pooling import Prior, group_prior, pooled, pooled_share
from fastness.record.rates import ENOUGH, Rate, interval, jeffreys, rate_of
from fastness.record.student_game import StudentGame
from fastness.record.words import finding_sentence

__all__ = [
    "ENOUGH",
    "HABITS",
    "OWN_CAUSES",
    "PHASES",
    "Change",
    "Correction",
    "Diagnosis",
    "Episode",
    "Finding",
    "LookedThrough",
    "MoveCorrection",
    "MoveVerdict",
    "Period",
    "Phase",
    "Prior",
    "Rate",
    "Results",
    "Said",
    "StudentGame",
    "Theme",
    "all_episodes",
    "apply_corrections",
    "before_and_after",
    "best_examples",
    "corrected_games",
    "diagnose",
    "diagnose_among",
    "episodes_of",
    "expected_score",
    "finding_sentence",
    "group_prior",
    "halves",
    "held_examples",
    "interval",
    "jeffreys",
    "looked_through",
    "months_plan",
    "nothing_to_hold",
    "pooled",
    "pooled_share",
    "rate_of",
    "rates_by",
    "results",
    "trend",
    "ways_used",
]
