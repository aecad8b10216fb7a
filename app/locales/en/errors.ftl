### What is said when something cannot be taken. Words come with their screens.
