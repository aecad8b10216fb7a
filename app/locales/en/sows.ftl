## Sows
sows-count = { $n ->
    [one] { $n } sow
   *[other] { $n } sows
}
sows-number = Number of a new sow
sows-gilt = She is a gilt
sows-is-gilt = gilt
sows-add = Add the sow
sows-twice = There is a sow of this number. Tap again to add another one.
sows-title = Sow { $number }
sows-missing = No sow here under this address. She may not have arrived on this phone yet.
sows-not-here = No sows here
sows-not-here-why = This phone is the laboratory's. Sows are on phones of the barn and in the office.
sows-stands-since = Stands since { $day }
sows-served-on = Served { $day }
sows-since-when = Since when does she stand?
sows-just-now = Just now
sows-hours-ago = { $n } h ago
sows-stands = Stands now
sows-stands-not = Does not stand
sows-stood = stood
sows-stood-not = did not stand
sows-onset = since { $when }
sows-after = After the service
sows-return = Look for a return: { $from } to { $to }.
sows-check = Pregnancy check: from { $check }, better { $better }.
sows-farrows = She farrows about { $farrows }.
sows-heats = Heat
sows-services = Services
sows-by-boar = by boar { $boar }
sows-by-doses = { $n ->
    [one] { $n } dose
   *[other] { $n } doses
} of boar { $boar }, { $how }
sows-natural = A boar served her
sows-by-which = Which boar?
sows-natural-why = A natural service counts in his rest.
sows-natural-when = When?
sows-natural-save = He served her
sows-withdrawal = The extender held an antibiotic. A withdrawal period may bar her from slaughter: ask the label and the veterinarian.
sows-withdrawal-unknown = Nobody said whether the extender held an antibiotic. Before slaughter, ask the label and the veterinarian.
