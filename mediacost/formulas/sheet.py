"""One sheet: what it costs, how long it lasts, and when it is replaced."""

from __future__ import annotations

from mediacost.formulas.numeric import Number, expm1, floor, log1p, maximum, ratio, where


def pieces_from_cut(length: Number, width: Number, piece_length: Number, piece_width: Number) -> Number:
    """Tray-sized pieces that one roll or large sheet gives, all cut the same way round.

    The better of the two plain grids: pieces along the roll, or turned by a quarter.

    Parameters
    ----------
    length, width : number
        Size of the roll or large sheet [m]
    piece_length, piece_width : number
        Inner size of the tray [m]

    Returns
    -------
    number
        Whole pieces [1]

    Examples
    --------
    >>> pieces_from_cut(15.0, 1.0, 0.51, 0.25)
    116.0

    References
    ----------
    Cutting in a plain grid: common practice, no source.
    """
    along = floor(length / piece_length) * floor(width / piece_width)
    turned = floor(length / piece_width) * floor(width / piece_length)
    return maximum(along, turned)


def landed_price(pack_price: Number, delivery: Number) -> Number:
    """Price of a pack on the doorstep: pack_price + delivery.

    Parameters
    ----------
    pack_price : number
        Price of one pack [money]
    delivery : number
        Freight and duty for one pack [money]

    Returns
    -------
    number
        Landed price of a pack [money]

    Examples
    --------
    >>> landed_price(48.0, 6.0)
    54.0
    """
    return pack_price + delivery


def sheet_price(landed: Number, pieces: Number) -> Number:
    """Price of one tray-sized piece: landed / pieces.

    Parameters
    ----------
    landed : number
        Landed price of a pack [money]
    pieces : number
        Tray-sized pieces in a pack [1]

    Returns
    -------
    number
        Price of a sheet [money]

    Examples
    --------
    >>> sheet_price(54.0, 12)
    4.5
    """
    return landed / pieces


def mean_cycles(life: Number, loss: Number) -> Number:
    """Cycles that a sheet serves on average: (1 - (1 - q)^N) / q, and N where nothing is lost.

    A sheet is lost with probability q in each cycle, having served it, and retires after N cycles. This is the
    mean of a geometric life cut off at N.

    Parameters
    ----------
    life : number
        Rated life N, at least 1 [1]
    loss : number
        Share lost per cycle q, 0 <= q < 1 [1]

    Returns
    -------
    number
        Mean cycles served [1]

    Examples
    --------
    >>> round(mean_cycles(100.0, 0.01), 1)
    63.4
    >>> mean_cycles(100.0, 0.0)
    100.0

    References
    ----------
    Mean of a truncated geometric distribution; any textbook on renewal processes, e.g. H. C. Tijms, A First
    Course in Stochastic Models (2003), chapter 2 (from memory).
    """
    return ratio(-expm1(life * log1p(-loss)), loss, loss > 0, life)


def life_for_mean(mean: Number, loss: Number) -> Number:
    """Rated life that reaches a mean number of cycles: ln(1 - q n) / ln(1 - q); n where nothing is lost.

    The inverse of :func:`mean_cycles`. Infinite where q n >= 1: sheets are lost too often to get there.

    Parameters
    ----------
    mean : number
        Mean cycles n to reach; may be infinite, for never [1]
    loss : number
        Share lost per cycle q, 0 <= q < 1 [1]

    Returns
    -------
    number
        Rated life, not rounded; infinity where no life reaches the mean [1]

    Examples
    --------
    >>> round(life_for_mean(mean_cycles(100.0, 0.01), 0.01), 9)
    100.0
    >>> life_for_mean(120.0, 0.01)
    inf
    """
    wanted = where(mean < float("inf"), mean, 0.0)  # an endless mean times no loss would be no number
    reachable = (mean < float("inf")) & (loss * wanted < 1)
    lossy = loss > 0
    above = log1p(-loss * where(reachable, wanted, 0.0))
    with_loss = ratio(above, log1p(-loss), lossy, mean)
    return where(reachable, with_loss, float("inf"))


def sheet_life_cost(
    price: Number, cut_minutes: Number, labour_price: Number, mass: Number, end_price: Number
) -> Number:
    """All that one sheet costs over its life: price + cutting labour + mass * end_price.

    Parameters
    ----------
    price : number
        Price of a sheet [money]
    cut_minutes : number
        Minutes to cut one piece [min]
    labour_price : number
        Price of a minute of labour [money/min]
    mass : number
        Dry mass of a sheet [kg]
    end_price : number
        Fee of its route less its scrap value; negative where scrap pays [money/kg]

    Returns
    -------
    number
        Cost of one sheet from purchase to disposal [money]

    Examples
    --------
    >>> sheet_life_cost(12.0, 0.5, 0.4, 0.15, -0.8)
    12.08
    """
    return price + cut_minutes * labour_price + mass * end_price


def replacements(cycles: Number, life: Number, loss: Number) -> Number:
    """Expected replacements R(n) of one tray position's sheet after n cycles; straight between whole n.

    With q the share lost per cycle, N the rated life and p = (1 - q)^N the chance of reaching it, the chance
    u_n that a sheet is replaced right after cycle n obeys u_0 = 1, u_n = q for 0 < n < N and
    u_n = q + p u_(n-N) from there on; R(n) = u_1 + ... + u_n. Unrolling the recursion gives, with
    J = floor(n / N), G = p + p^2 + ... + p^J and m the mean cycles served,

        R(n) = q n (1 + G) + G - (N / m) (G - J p^(J+1)).

    Parameters
    ----------
    cycles : number
        Cycles served so far n, zero or more [1]
    life : number
        Rated life N, a whole number of at least 1 [1]
    loss : number
        Share lost per cycle q, 0 <= q < 1 [1]

    Returns
    -------
    number
        Expected number of replacements [1]

    Examples
    --------
    >>> replacements(25.0, 10.0, 0.0)
    2.0
    >>> round(replacements(25.0, 1e6, 0.01), 9)
    0.25

    References
    ----------
    Discrete renewal equation; H. C. Tijms, A First Course in Stochastic Models (2003), chapter 2 (from memory).
    The fixed life gives floor(n / N) and an endless one n q, as renewal theory has it.
    """
    log_keep = life * log1p(-loss)
    wear_share = life / mean_cycles(life, loss)
    whole = floor(cycles)
    part = maximum(cycles - whole, 0.0)
    done = _replacements_at_whole(whole, life, loss, log_keep, wear_share)
    return done + part * (_replacements_at_whole(whole + 1, life, loss, log_keep, wear_share) - done)


def _replacements_at_whole(cycles: Number, life: Number, loss: Number, log_keep: Number, wear_share: Number) -> Number:
    turns = floor(cycles / life)
    wears_out = expm1(log_keep)
    # p (1 - p^J) / (1 - p), through expm1 so that small losses keep their digits
    geometric = ratio((wears_out + 1.0) * expm1(turns * log_keep), wears_out, loss > 0, turns)
    last = turns * (expm1((turns + 1) * log_keep) + 1.0)
    return loss * cycles * (1.0 + geometric) + geometric - wear_share * (geometric - last)
