"""The adhesive shelf: what each lot is fit for, and what is taken from it."""
