"""The answers: the document's numbers, read through the formulas, kept as frozen records.

``compare`` gives the single answer; ``explain`` opens any of its figures down to the inputs. The document and the
formulas never meet but here.
"""

from mediacost.results.answers import Comparison, MediumAnswer, NoAnswer
from mediacost.results.comparison import compare

__all__ = ["Comparison", "MediumAnswer", "NoAnswer", "compare"]
