"""The unexpected group on six points, recognised by GAP."""

from tests.common import gap


def is_that_of_the_projective_line(generators):
    """Whether a group on 0 … 5 is PGL(2, 5) after a renaming of the points, and isomorphic to S₅."""
    said = gap.gap(
        f"g := {gap.group(generators)};;\n"
        'Print(RepresentativeAction(SymmetricGroup(6), g, PGL(2, 5)) <> fail, "\\n");\n'
        'Print(IsomorphismGroups(g, SymmetricGroup(5)) <> fail, "\\n");'
    )
    return said == ["true", "true"]
