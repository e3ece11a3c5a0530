"""What a book is: sheets, pages, text, hands, spaces and skins, as pure functions and frozen values."""
