"""What the owner fills in about designs."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import inlineformset_factory

from shop.designs.models import Design, Detail, Pass
from shop.lengths import LengthInput

MOST_ROWS = 30
"""Passes of a design, and its details."""
LONGEST_IN = 10 * 12
LARGEST_FILE = 1_000_000
SIDES, FEWEST_SIDES, MOST_SIDES = 6, 3, 24


class DesignForm(forms.ModelForm):
    """The design itself; its outline from a file, its passes and details are said elsewhere on its page."""

    class Meta:
        model = Design
        fields = [
            "name",
            "shape",
            "length_nm",
            "width_nm",
            "corner_radius_nm",
            "sides",
            "stock_thickness_nm",
            "pocket_depth_nm",
            "rim_nm",
            "turns",
            "is_glued",
            "sanding_minutes",
            "finish",
            "takes_text",
            "takes_artwork",
            "price",
            "fair_guess",
            "is_offered",
        ]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["corner_radius_nm"].required = False
        self.fields["sides"].required = False
        for name in ("corner_radius_nm", "pocket_depth_nm", "rim_nm"):
            self.fields[name].help_text = "inches, or with its unit: 3/4, 0.4, 12 mm"
        if not self.instance.outline:  # a free outline comes from a file; without one there is nothing to draw
            self.fields["shape"].choices = [each for each in Design.Shape.choices if each[0] != Design.Shape.FREE]

    def clean_corner_radius_nm(self) -> int:
        return self.cleaned_data["corner_radius_nm"] or 0

    def clean_sides(self) -> int:
        sides = self.cleaned_data["sides"] or SIDES
        if not FEWEST_SIDES <= sides <= MOST_SIDES:
            raise ValidationError(f"A polygon has {FEWEST_SIDES} to {MOST_SIDES} corners.")
        return sides

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        for name, label in (("length_nm", "The length"), ("width_nm", "The width")):
            if said.get(name) is not None and not 0 < said[name] <= LONGEST_IN * 25_400_000:
                self.add_error(name, f"{label} is more than 0 and at most 10 feet.")
        if said.get("pocket_depth_nm") and not said.get("rim_nm") and not self.instance.pockets:
            self.add_error("rim_nm", "A pocket needs the width of the rim around it.")
        return said


class PassForm(forms.ModelForm):
    """One pass: what, with which bit, how far apart its rounds lie; or its minutes by hand."""

    class Meta:
        model = Pass
        fields = ["kind", "bit", "step_over_percent", "depth_nm", "tabs", "by_hand", "minutes"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["minutes"].required = False
        self.fields["tabs"].required = False
        for name in ("tabs", "by_hand", "depth_nm"):
            self.fields[name].help_text = ""  # said once, above all passes
        if self.instance.pk is None:
            self.initial.setdefault("by_hand", False)
            self.initial.setdefault("kind", Pass.Kind.POCKET)

    def clean_step_over_percent(self) -> int | None:
        step_over = self.cleaned_data["step_over_percent"]
        if step_over is not None and not 1 <= step_over <= 100:
            raise ValidationError("A step-over is 1 to 100 % of the bit.")
        return step_over

    def clean_tabs(self) -> int:
        return self.cleaned_data["tabs"] or 0

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if said.get("kind") == Pass.Kind.OTHER:
            said["by_hand"] = True
        if said.get("by_hand") and not said.get("minutes"):
            self.add_error("minutes", "Minutes by hand are more than 0; say how many.")
        said["minutes"] = said.get("minutes") or 1  # what is worked out is written over it
        return said


class DetailForm(forms.ModelForm):
    """One step of the detail branch; a laser's minutes are worked out where its size is said."""

    class Meta:
        model = Detail
        fields = [
            "kind",
            "bit",
            "colour",
            "minutes",
            "rest_least_minutes",
            "rest_most_minutes",
            "laser_length_nm",
            "laser_width_nm",
            "laser_lines_per_inch",
            "laser_cut_nm",
            "note",
        ]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["minutes"].required = False
        self.fields["rest_least_minutes"].required = False

    def clean_rest_least_minutes(self) -> int:
        return self.cleaned_data["rest_least_minutes"] or 0

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        self._drop_what_others_use(said)
        engraving = [said.get(f"laser_{name}") for name in ("length_nm", "width_nm", "lines_per_inch")]
        if any(engraving) and not all(engraving):
            raise ValidationError("An engraving has a length, a width and its lines an inch.")
        worked_out = said.get("kind") == Detail.Kind.LASER and (all(engraving) or said.get("laser_cut_nm"))
        if not said.get("minutes") and not worked_out:
            self.add_error("minutes", "Say how many minutes it takes.")
        said["minutes"] = said.get("minutes") or 1
        if said.get("kind") == Detail.Kind.CARVE and not said.get("bit"):
            self.add_error("bit", "Say with which bit it is carved.")
        return said

    def _drop_what_others_use(self, said: dict[str, Any]) -> None:
        """The page hides what a kind of work doesn't use; what is still in such a field is not meant."""
        kind = said.get("kind")
        if kind and kind != Detail.Kind.CARVE:
            said["bit"] = None
        if kind and kind != Detail.Kind.LASER:
            said |= {name: None for name in said if name.startswith("laser_")}


_ROWS = {"extra": 1, "can_delete": True, "can_order": False, "max_num": MOST_ROWS, "absolute_max": MOST_ROWS + 1}
PassFormSet = inlineformset_factory(Design, Pass, form=PassForm, validate_max=True, **_ROWS)
DetailFormSet = inlineformset_factory(Design, Detail, form=DetailForm, validate_max=True, **_ROWS)


class DrawingForm(forms.Form):
    """An SVG file of an outline."""

    drawing = forms.FileField(
        label="Outline as an SVG file", help_text="one closed shape; closed shapes in it are pockets"
    )

    def clean_drawing(self) -> Any:
        file = self.cleaned_data["drawing"]
        if file.size > LARGEST_FILE:
            raise ValidationError(
                f"The file has {file.size / 1e6:.1f} MB; an outline needs less than 1 MB. Leave pictures out of it."
            )
        return file


class SizeForm(forms.Form):
    """How long the drawn outline is in truth; the width follows."""

    length = LengthInput(label="Its length")
    rim = LengthInput(
        label="Rim to grow around it",
        required=False,
        help_text="empty: the drawing is the outer edge; else it is the pocket, and the rim is grown outward from it",
    )
    pocket_depth = LengthInput(label="Pocket depth", required=False)

    def __init__(self, *args: Any, has_pockets: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.has_pockets = has_pockets

    def clean_length(self) -> int:
        length_nm = self.cleaned_data["length"]
        if not 0 < length_nm <= LONGEST_IN * 25_400_000:
            raise ValidationError("The length is more than 0 and at most 10 feet.")
        return length_nm

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if said.get("rim") and not said.get("pocket_depth"):
            self.add_error("pocket_depth", "A rim is grown around a pocket; say how deep that is.")
        elif self.has_pockets and not said.get("pocket_depth"):
            self.add_error("pocket_depth", "The drawing has a pocket; say how deep it is.")
        return said
