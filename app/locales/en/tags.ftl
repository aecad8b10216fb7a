### The printed sheet of pen tags.

sheet-title = Pen tags
sheet-pen = Pen
sheet-trial = TRIAL
sheet-trial-why = The address these tags lead to is not chosen yet. Print them to try, and print them again once it is.
sheet-how = Print at 100 %, not fitted to the page.
sheet-ruler = This line is 100 mm long. Measure it before you cut.
sheet-empty = No pen has a tag yet. Make a pen first.
