## May he be collected today?
stand-yes = May be collected
stand-rests = Rest: till { $day }
stand-third = Enough till { $day }
stand-off = Off collection
stand-young = Too young
stand-unknown = Unknown
stand-gone = Not here
stand-yes-last = Last worked { $day }.
stand-yes-never = No collection in the log yet.
stand-yes-practice = Practice after his first success.
stand-worked = Worked { $days }.
stand-young-why = Old enough on { $day }.
stand-off-until = { $reason }, { $ends }.
stand-gone-why = He left the farm on { $day }.
stand-unknown-boar = His particulars have not arrived on this phone.
stand-unknown-history = Nobody said when he last worked. Ask, then enter it with his particulars.
stand-unknown-age = His birth date is missing.
stand-unknown-clock = An entry about him bears a date in the future. Have it corrected.
stand-idle-check = Idle for { $n } days: check the semen before use.
stand-idle-clean-out = Idle for { $n } days: the first ejaculate is a clean-out.
stand-double = Two collections within an hour, perhaps one recorded twice.
stand-decided = Decided by the entry of { $when }.

off-ill = Ill
off-lame = Lame
off-fever = Fever
off-treated = Under treatment
off-injured = Injured
off-isolation = Isolation
off-blood-or-pus = Blood or pus: veterinarian first
off-cull = To be culled
off-other = Other reason
off-till = till { $day }
off-put-back = until somebody puts him back
off-veterinarian = until the veterinarian says so
off-till-veterinarian = till { $day }, then ask the veterinarian
off-more = Another reason
off-cull-why = Why is he to be culled?
off-already = Off already: { $why }
off-none-at-all = A time off from { $from } was entered to end before that, on { $until }: it keeps him off no day. Enter it again.

## When he is due
due-on = Due { $day }.
due-since = Due since { $day }.
due-standard = Every { $span }: the farm standard.
due-young = Every { $span } while under a year.
due-own = Every { $span }: his own recovery.
due-repeats = Repetition after his first success.
fever-till = Watched for harm till { $day }, after fever.
fever-open = Watched for harm for six weeks once the fever is over.
cull-output = Gives too little
cull-quality = Poor quality
cull-temper = A danger to people
cull-legs = Legs and feet
cull-fertility = Sows return or farrow few
cull-age = Age
cull-replaced = Better ones at hand

## The boar's page
boar-title = Boar { $number }
boar-of-pen = Pen { $pen }
boar-collect = Collect
boar-collect-anyway = Collect anyway
boar-go-on = Go on with the collection
boar-bad-moment = Bad moment
boar-mind = Mind
boar-danger = Danger: { $what }, { $day }
boar-born = Born { $day }, { $months } months
boar-born-unknown = Birth date unknown
boar-line = Line { $line }
boar-ear = Ear { $ear }
boar-last = Last collections
boar-edit = Particulars
boar-say-history = Enter when he last worked
boar-say-age = Enter his birth date
boar-move = Move
boar-off = Take off collection
boar-on = Put back on collection
boar-note = Note
boar-notes = Notes
boar-same = Same as another boar
boar-missing = No boar here under this address. He may not have arrived on this phone yet.
boar-recorded-by = by { $name }
boar-as-of = As of { $when }
boar-as-of-never = Nothing from the office yet
collected-volume = { $ml } mL
collected-no-volume = volume not measured
collected-nothing-kept = nothing kept
collected-no-mount = did not mount
collected-forbidden = not for use
collected-corrected = corrected
collected-rich = rich only
collected-rich-and-poor = rich and poor
collected-cup-unanswered = fractions in the cup not said

trouble-backed-off = Backed off
trouble-slipped = Grip slipped
trouble-soft = Soft
trouble-noise = Noise
trouble-dirt = Dirt in the cup
trouble-filter = Filter torn or slipped
trouble-blood = Blood
trouble-lame = Limped
trouble-hot = Hot
trouble-bite = Bit
trouble-charge = Charged
trouble-person-hurt = Person hurt
temper-calm = Calm
temper-restless = Restless
temper-slow = Slow
temper-dangerous = Dangerous

## A pen's tag
pen-title = Pen { $pen }
pen-empty = Nobody in this pen
pen-empty-why = The log has no boar in pen { $pen }.
pen-which = Which boar?
pen-which-why = { $n } boars in pen { $pen }. Check the ear.
pen-move-in = Move a boar in
pen-rename = The gate says something else now
pen-name = What is painted on the gate
tag-is-batch = A semen batch
tag-is-batch-why = This code stands on doses, not at a pen.
tag-unknown = Tag not known
tag-unknown-why = Code { $code } leads to no pen on this phone. It may be new, or from another farm.
tag-bad = Code does not read
tag-bad-why = { $read } is not a tag code: six digits, the last one checks the others.

## A collection
collect-title = Collect { $number }
collect-prepare = Before you go in
ready-extender = Extender warming
ready-cup = Cup and bag 37–38 °C
ready-filter = Filter on
ready-gloves = Fresh gloves, two on the gripping hand
ready-board = Board in reach
ready-exit = Way out free
ready-second = Second person near
ready-sow-stands = The sow stands
ready-sow-size = She is his size
ready-sow-held = She is cornered or held
collect-caution = A boar can injure and kill. Never turn your back, never alone with an untrained boar, never startle a mounted boar. Local rules and the veterinarian come first.
collect-glove = Glove on the gripping hand?
collect-glove-is = Glove: { $glove }
collect-change = Change
glove-vinyl = Vinyl
glove-nitrile = Nitrile
glove-polyethylene = Polyethylene
glove-latex = Latex
glove-none = Bare hand
glove-nitrile-word = Sources conflict on nitrile: test this lot first.
glove-latex-stop = Latex kills sperm
glove-latex-why = Take another glove before you go on.
collect-mount-is = Mount: { $mount }
collect-which-sow = Off which sow?
collect-no-sow-stands = No sow stands by the log. It is kept as “a sow”.
mount-dummy = Dummy
mount-sow = Sow
collect-despite = Why against the advice?
despite-sows-wait = Sows wait
despite-last-failed = Last one failed
despite-practice = Practice
despite-veterinarian = Veterinarian asked
despite-record-wrong = Record is wrong
collect-go-helper = Go: a helper taps
collect-go-afterwards = Go: write it down afterwards
collect-under-helper = Collecting
collect-under-afterwards = Collect him now
collect-under-afterwards-why = Phone away. Come back when the cup is safe.
collect-since = { $span } since lock-on
collect-since-start = { $span } since the start
collect-long = Over 15 min: enough
step-enters = Enters
step-mounts = Mounts
step-lock-on = Lock-on
step-pre-sperm = Pre-sperm
step-sperm-rich = Sperm-rich
step-sperm-poor = Sperm-poor
step-gel = Gel
step-end = End
step-not-timed = times not taken
collect-undo = Undo { $step }
collect-cup-safe = Cup is safe
collect-nothing-kept = Nothing kept
collect-no-mount = Did not mount
collect-amount = How much is in the cup?
collect-amount-ml = Volume
collect-amount-g = Weight
collect-amount-weigh = Weigh instead
collect-amount-read = Read the volume instead
collect-tare = Tare (cup and bag)
collect-tare-too-high = The tare is more than the weight. Weigh cup, bag and semen together, then type the tare of cup and bag.
collect-amount-ok = Take it
collect-amount-skip = Not measured
collect-amount-odd = { $ml } mL is outside the usual 50 to 500 mL. Is it right?
collect-amount-right = It is right
collect-amount-again = Enter it again
collect-finish = How was he?
collect-trouble = Trouble?
collect-cup-is = In the cup: { $what }
collect-cup-ask = Did sperm-poor go into the cup?
collect-save = Save
collect-saved = Saved on this phone
collect-saved-why = { $number }: { $what }. It goes to the office by itself.
collect-to-bench = To the bench
collect-back = Back
collect-stop = Drop this collection
collect-begun-before = This collection was begun { $when }. Is it about that day, or do you collect him now?
collect-of-then = It is about that day: go on
collect-anew = I collect him now: begin anew
collect-other-open = A collection of boar { $number } is open.
cannot-save = Not saved: { $why }

## The bad moment
bad-title = Bad moment
bad-charge = He charges
bad-charge-do = Board between you and him. Back to the way out, do not run, do not turn. Step through the gap. Leave him the pen.
bad-hurt = A person is hurt
bad-hurt-do = Out of the pen first. Press on a wound that bleeds. Call the emergency number. A bite needs a doctor today.
bad-bleed = He bleeds
bad-bleed-do = Let go at once. Let him down by himself, keep him quiet and alone. Throw the semen away. Call the veterinarian.
bad-note = Local rules and the veterinarian come first.
bad-then = Afterwards
bad-take-off = Take him off collection

record-this-phone = this phone only
record-this-refused = not accepted
collect-mount = Mount?

off-open = No end
off-why = Why?
off-how-long = How long?
move-nowhere = Out of the pens
move-where = Where is he now?
move-gone = Did he leave the farm for good?
note-words = What should others know?
same-why = Boar { $number } was entered twice. Which is the other entry?
same-which = The same as

## Today
today-summary = { $n ->
    [one] { $n } boar may be collected.
   *[other] { $n } boars may be collected.
}
today-waits = { $n ->
    [one] { $n } ejaculate waits for the bench.
   *[other] { $n } ejaculates wait for the bench.
}
today-no-boars = No boars yet. Enter one, or bring in a list.
today-silent = Nothing from the office for { $span }. What others did since is not shown.
today-may = May be collected
today-late = Late
today-due = Due
today-idle = Idle too long
today-early = Early
today-signals = { $n ->
    [one] { $n } signal: look
   *[other] { $n } signals: look
}
today-week = The coming seven days
today-unknown = Unknown
today-rest = Rest
today-off = Off collection, too young

## Practice, and work under supervision
practice = Practice
practice-why = Nothing of this goes into the log.
practice-over = Practice is over
practice-back = Back to learning
supervised-ask = Who stood by?
supervised-why = It counts towards a sign-off. May stay empty.
supervised-counted = { $name } stood by: { $n } of { $all } under supervision.

## Looked after
today-checks = { $n ->
    [one] { $n } thing to look after
   *[other] { $n } things to look after
}
today-checks-not-fine = { $n } not fine
area-not-fine = { $what }: not fine. Nobody goes in.
thing-footing = Footing
thing-dummy-stands = Dummy stands firm
thing-way-out = Way out

# On screens that wait for an answer
collect-waits-glove = First say which glove.
collect-waits-reason = First say why against the advice.
train-waits-reason = First say why so young.
drop-sure = Tap again: all of it is gone for good
answer-first = First answer what is asked above.
