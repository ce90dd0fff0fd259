"""Other people's material to the text of a plan. Only this floor knows numpy and Pillow (the extra ``draft``)."""
