### The bench: evaluating, doses, sows.

colour-milky = Milky
colour-cream = Cream
colour-watery = Watery
colour-yellow = Yellow
colour-pink = Pink
colour-brown = Brown
smell-normal = Normal
smell-urine = Urine
smell-foul = Foul

count-as-total = All sperm
count-as-motile = Motile sperm
count-as-motile-normal = Motile and normal sperm

## What waits
bench-empty = Nothing waits. What is collected shows here, to be measured and made into doses.
bench-batches = Semen batches
bench-missing = This collection is not on this phone.
bench-of = Boar { $number } · { $what }
bench-age = Collected { $span } ago
batch-doses = { $n ->
    [one] { $n } dose
   *[other] { $n } doses
}
batch-use-by = use before { $when }
batch-over = past use since { $when }

## Evaluating
measure-concentration = Concentration
measure-motile = Motility
measure-abnormal = Abnormal
measure-droplets = Droplets
measure-colour = Colour
measure-smell = Smell
measure-blood = Blood?
measure-pus = Pus?
measure-urine = Urine?
measure-counted = counted
measure-by-eye = by eye
measure-take-counted = Counted, of { $n } cells
measure-take-by-eye = Judged by eye
measure-typed-why = Type it, then say how it was found.
measure-chamber = Counted in a chamber
measure-count = Sperm counted
measure-squares = Squares counted
unit-parts = parts

## A semen batch and its use
batch-missing = This semen batch is not on this phone.
batch-left = { $n ->
    [one] { $n } dose left
   *[other] { $n } doses left
}
batch-not-all = This device does not know every use of it: fewer may be left. A device of the barn or the office does.
batch-made = { $n } made of { $ml } mL, { $technique }.
batch-of = Boars: { $boars }
batch-use = Use now
batch-used = Used on
batch-take-back = Take back this batch
batch-take-back-sure = Tap again: the batch does not count any more
batch-stays = A dose of it was used, so the batch stays. What is wrong is put right in the log.
batch-was-taken-back = Taken back
batch-was-taken-back-why = This semen batch does not count. Do not use doses that bear its label.
batch-withdrawal = Antibiotic in the extender, or nobody said: a withdrawal period may keep the served sow from slaughter. Follow the label, the veterinarian and local rules.
serve-which = Which sow?
serve-left = { $n } left of { $code }
serve-doses = Doses
serve-sow = Sow { $number }
serve-new-sow = New sow { $number }
serve-gave = { $number }: { $n ->
    [one] { $n } dose
   *[other] { $n } doses
}, { $left } left
serve-again = { $n ->
    [one] Another dose for { $number }?
   *[other] { $n } more doses for { $number }?
}
serve-too-many = Only { $n } left of this batch. Take fewer, or another batch.
serve-over = Past use since { $when }: do not use these doses. Take another batch.
serve-done = Done

## Doses
doses-technique = Technique
doses-sows = Sows that stand
need-title = How many sows stand?
need-why = From the sows to the doses: what they take, what waits, who may be collected.
need-gives = { $number }: { $n } doses
need-kept = Made and not past use: { $n } doses. Waiting at the bench:
need-unmeasured = { $number }: not measured yet
need-collect = May be collected today
doses-plain = Without a microscope
plain-undiluted = Undiluted, up to 100 mL
plain-extended = 20 mL made up
doses-save = Make this batch
doses-evaluate = Measure
doses-uncounted = Not counted: nobody knows how many sperm are in these doses.
doses-none = No doses
doses-thin = Too thin for the usual volume: larger doses without extender, or pool it.
doses-pool = Too thin even for large doses. Pool it with another ejaculate.
doses-too-few = Not enough for one dose. Pool it, or take a smaller target.
doses-fill = { $ml } mL each, { $extender } mL extender.
doses-pour = Warm { $extender } mL extender to within { $apart } °C of the semen, raw semen at { $semen } °C. Pour the extender gently into the semen, within 15 min.
doses-store = Then 1 to 2 h at room temperature in the dark, then { $store } °C, spaced. Turn { $turns } times a day.
doses-left = { $ml } mL semen stay over.
doses-final = { $m } M/mL in the dose.
doses-use-by = Use before { $when }.
doses-enough = The sows take { $n } doses; { $spare } stay over.
doses-short = The sows take { $n } doses; { $short } are missing. Served in full: { $sows }.
doses-lacks = Missing: { $what }. Without it nobody can count doses.
doses-needed = The sows take { $n } doses.
doses-next = The next sow gets only { $n }.
doses-without = Without any: { $n }.
doses-not-reckoned = Cannot be reckoned yet
doses-fill-pure = { $ml } mL each, no extender.
doses-warm = Undiluted: keep it at { $semen } °C and use it within 2 h.
doses-not-measured = Not measured: { $what }.
doses-not-looked = Not looked for: { $what }.
doses-shares = Each boar's share of the sperm: { $list }.
doses-apart = Semen and extender are { $apart } °C apart; { $most } °C at most is right. Warm or cool the extender, measure again, then pour.
doses-overdue = Collected { $span } ago: raw semen is diluted within about { $most } min.
doses-odd-age = Collected over { $hours } h ago. Undiluted semen is used within { $most } h. Make doses of it all the same?
doses-odd-apart = They stay { $apart } °C apart?
doses-odd = { $what }: { $read } { $unit }. Usual is { $low } to { $high }. Is it right?
doses-odd-one = { $what }: { $read } { $unit }. Usual is { $low }. Is it right?
doses-one-at-a-time = Without a microscope, fill from one ejaculate at a time.
doses-pool-many = At most { $n } ejaculates are poured together. Take some out again.
doses-refused = These figures cannot be reckoned together. Take what you chose back to the default.
doses-target = Sperm in each dose
doses-count-as = Which sperm count
doses-volume = Volume of a dose
doses-class = Extender keeps
doses-semen-c = Semen is at
doses-extender-c = Extender is at
doses-services = Services of each sow
doses-by-default = by default
doses-take-default = Back to the default
doses-leave-open = Leave it open
doses-deep = Another technique
doses-pool-with = Pour together with
doses-pool-add = add
doses-pooled = in the pool
extender-short = Short, up to 3 days
extender-medium = Medium, up to 5 days
extender-long = Long, up to 10 days
unit-sows = sows
finding-volume = volume
finding-concentration = concentration
finding-motility = motility
finding-abnormal = abnormal
finding-droplets = droplets
doses-apart-anyway = Pour them so
doses-over = Past use since { $when }: it cannot be kept any longer that way.
doses-made-before = Batch { $code } was made of this ejaculate already.
how-same = Worked out anew: the same as when the batch was made.
how-differs = Worked out anew, this is not what was printed when the batch was made. The batch keeps what people acted on.
how-doses = How the doses were reckoned
source-definition = Follows from the words.
source-who = WHO laboratory manual, 5th ed. 2010.
source-wilson = Wilson 1927.
source-clopper = Clopper and Pearson 1934.
source-brown = Brown, Cai and DasGupta 2001.
source-przyborowski = Przyborowski and Wilenski 1940.
source-berkson = Berkson, Magath and Hurn 1940.
source-zou = Zou and Donner 2008.
source-queensland = Queensland Government.
source-common-practice = Common practice, no source.
source-farm = Farm standard.
