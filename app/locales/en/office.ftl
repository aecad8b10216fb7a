### The office. Words come with its screens.

more-boars = Boars
more-pens = Pens and tags
more-sows = Sows
more-log = Log
more-standard = Farm standard
more-people = People
more-import = Bring in a list of boars
more-backup = Backup and this phone
more-aside = Not accepted
more-send = Send now
more-keep = Keep on this phone
more-kept = The browser keeps this phone's records.
more-not-kept = The browser promises nothing. Put the app on the home screen, and send often.
more-update = Take the new version
more-caution = Boars injure and kill. Local rules, the veterinarian and licensed practice come before anything this screen says.

first-title = Your barn
first-why = Three ways to begin.
first-name = Name of the farm
first-name-missing = Type the farm's name first.
first-empty = Start empty
first-list = Bring in a list of boars
first-look = Look around an invented barn
first-look-why = The invented barn has boars, pens and years of work that never happened. It is kept apart: nothing of it mixes with yours.

boars-new = New boar
