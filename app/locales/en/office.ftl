### The office. Words come with its screens.
