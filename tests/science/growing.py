"""Made-up rates for the stage model's tests: no figure of any animal."""

from dataclasses import fields, replace

from mancary.science.stage_rates import Conditions, Rates, Span, Traits, modes


def span(mode: float, spread: float = 1.0) -> Span:
    return Span(low=mode / spread, mode=mode, high=mode * spread)


TRAITS = Traits(
    manca_weeks=span(4, 1.3),
    juvenile_weeks=span(12, 1.3),
    brood_weeks=span(4, 1.2),
    rest_weeks=span(5, 1.4),
    brood_young=span(15, 1.5),
    female_share=span(0.5),
    manca_survival=Span(low=0.4, mode=0.6, high=0.8),
    juvenile_survival=Span(low=0.6, mode=0.8, high=0.9),
    adult_weeks=span(45, 1.4),
    adult_mg=span(50),
    t0_c=span(10.5),
    t_opt_c=span(28),
    t_max_c=span(36),
)
RATES = modes(TRAITS)

CONDITIONS = Conditions(
    growth_half_g_m2=100,
    brood_half_g_m2=200,
    manca_half_g_m2=200,
    structure=2,
    parity=(0.65, 0.85, 1.0),
    brood_spread=8,
    sperm_weeks=52,
    settling_weeks=3,
    weather_memory=0.6,
    weather_sd=0.2,
    crash_per_week=0.004,
    crash_low=0.3,
    crash_high=0.8,
    stage_weights=(0.02, 0.04, 0.1, 0.2, 0.4, 0.7),
)
CALM = replace(
    CONDITIONS,
    growth_half_g_m2=1e12,
    brood_half_g_m2=1e12,
    manca_half_g_m2=1e12,
    weather_sd=0.0,
    crash_per_week=0.0,
)
"""No crowding, no weather, no crashes: what the matrix is the mean of."""


def with_rates(**changed: float) -> Rates:
    assert set(changed) <= {one.name for one in fields(Rates)}
    return replace(RATES, **changed)
