"""A file of orders, and which of its columns is which of ours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from shop.orders.importing import COLUMNS, MOST_BYTES, NEEDED, SheetError, decode, read_sheet


class UploadForm(forms.Form):
    """`cleaned_data["text"]` is the file's text, known to be rows under a header."""

    file = forms.FileField(
        label="CSV file",
        help_text="one line of an order a row, a header on top",
        error_messages={
            "required": "Choose a file",
            "empty": "The selected file is empty",
            "invalid": "The file could not be uploaded: try again",
        },
    )

    def clean_file(self) -> UploadedFile:
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError(f"The selected file must be smaller than {MOST_BYTES // 1_000_000}MB")
        try:
            text = decode(file.read())
            read_sheet(text)
        except SheetError as error:
            raise forms.ValidationError(str(error)) from error
        self.cleaned_data["text"] = text
        return file


class MatchingForm(forms.Form):
    """One choice for each of our columns: a header of the file, or none."""

    def __init__(self, *args: Any, header: Sequence[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        headers = [(name, name) for name in header if name]
        for column in COLUMNS:
            self.fields[column] = forms.ChoiceField(
                label=column,
                choices=[("", "not in the file"), *headers],
                required=column in NEEDED,
                error_messages={"required": f"Choose the column that holds the {column}"},
            )

    def matching(self) -> dict[str, str]:
        return {column: name for column, name in self.cleaned_data.items() if name}
