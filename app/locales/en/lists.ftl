# The lists a phone carries too, and the first start.

more-boars = Boars
more-pens = Pens and tags
more-sows = Sows
more-log = Log
more-standard = Farm standard
more-people = People
more-checks = Looked after
more-learn = Learn the work
more-evidence = Does training work?
more-import = Bring in a list of boars
more-backup = Backup and this phone
more-phones = Phones let in
more-network = The farm's network
more-aside = Not accepted
more-send = Send now
more-sending = Sending …
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
invented = Invented barn: nothing here is real
more-leave-invented = Leave the invented barn
first-look-why = The invented barn has boars, pens and years of work that never happened. It is kept apart: nothing of it mixes with yours.
boars-new = New boar
field-label = 1 to 40 characters.
boars-count = { $n ->
    [one] { $n } boar here
   *[other] { $n } boars here
}
boars-filter = Find by number, name or pen
boars-more = { $n } more; type to find them.
boars-gone = Left the farm
pens-count = { $n ->
    [one] { $n } pen
   *[other] { $n } pens
}
pens-new = New pen: what is painted on the gate
pens-add = Add the pen
pens-twice = There is a pen { $pen }. Tap again to add another one.
pens-print = Print tags
pens-print-why = Each new pen gets a code for its tag. The office prints the tags; this needs a connection.
pens-empty = empty
pens-holds = { $boars } in it
pens-who = Who comes in?
pens-codes = Codes of its tags
pens-new-tag = New code
pens-missing = No pen here under this address. It may not have arrived on this phone yet.
sows-filter = Find by number
standard-idle-why = Common practice; no printed source.
