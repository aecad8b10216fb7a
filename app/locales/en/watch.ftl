# What a boar gives beside what was expected, and signals. Office screens.

kind-climate = Climate
kind-signal-answer = Answer to a signal
log-climate =
    { $n ->
        [one] { $room }, { $day }: { $low } °C
       *[other] { $room }, { $day }: { $n } readings, { $low } to { $high } °C
    }
log-signal-herd = The whole herd

## Signals
answered-seen = Seen, kept an eye on
answered-cause-found = The cause was found
answered-false = Nothing is the matter

cause-short-rest = Too little rest
cause-long-idle = A long pause
cause-heat = Hot days weeks before
cause-fever = Fever in the weeks before
cause-ill = Illness, injury or treatment
cause-handler = Another person collected him
cause-glove = Another glove
cause-dirt = Dirt in the cup
cause-filter = Filter torn or slipped
cause-instrument = Counted another way
cause-fractions = Other fractions in the cup
cause-age = His age
cause-herd = The bench or the heat: the whole herd fell
cause-other = Something else

next-short-rest = Give him a week, then compare.
next-long-idle = Discard the first ejaculate, collect again and compare.
next-heat = Cool the room. Expect him back five to six weeks after the heat.
next-fever = Take his temperature. Check his motility before each use until the watch is over.
next-ill = Look at him with the veterinarian.
next-handler = Watch one collection together: grip, release, patience.
next-glove = Test this lot of gloves on a drop of good semen.
next-dirt = Look at filter, gloves and the hair of the sheath.
next-filter = Stretch the filter over the cup before he mounts; try another kind, and filter what got through again.
next-instrument = Count one sample both ways.
next-fractions = Say at each collection which fractions went into the cup.
next-age = Compare with others of his age.
next-herd = Count one sample twice, warm the stage, test extender and thermometer before anybody blames a boar.
next-other = Write down what was found.

## What he gives
output-fell = Fell
output-fine = As expected
output-fine-why = His last { $n } counted ejaculates lie where they were expected.
output-answered = Fell, answered
output-no-fall = No fall
output-no-fall-why =
    { $out ->
        [one] Of { $n } figures of his last ejaculates one lies outside of where nine of ten were expected. About one in ten does so by chance.
       *[other] Of { $n } figures of his last ejaculates { $out } lie outside of where nine of ten were expected. About one in ten does so by chance.
    }
output-failed = Cannot be worked out
output-failed-why = What the office worked out does not fit the program on this phone. His records are safe. Bring phone and office to the same version, then look again.
output-few = Too few to say
output-few-why =
    { $n ->
        [0] None of his ejaculates was counted yet. What is shown is what is usual.
        [one] One ejaculate was counted. What is shown is mostly what is usual.
       *[other] { $n } ejaculates were counted. What is shown is mostly what is usual.
    }
output-ahead = What would he give?
output-ahead-why = Nine of ten lie within these bounds, if nothing else changes.
output-rest = Rest, days
output-rested =
    { $n ->
        [one] one day of rest
       *[other] { $n } days of rest
    }
output-volume = Volume mL
output-abnormal = Abnormal %
output-sperm = Sperm ×10⁹
output-motile = Motile %
output-recovery = By his own { $n } collections he is himself again after { $days } days. Take it as a hint.
output-seen = Given and expected
output-which = Which measure?
output-chart = { $measure }, what was given beside what was expected
output-legend = Band: where nine of ten were expected. Dots: what he gave; hollow ones lie outside. Bars below: hot days, then days off collection. Arrows: when a fall was told.
output-table = The figures
output-was = Given
output-expected = Expected
output-how = Fitted on { $n } counted ejaculates of { $boars } boars, { $when }. Age, line, rest, season, heat and fractions are taken into account; later ejaculates of his are added here.
output-how-none = No fit has come from the office yet: what is shown is what is usual in print, drawn towards his own ejaculates.
output-how-alone = On this farm this measure fits no model yet: nobody measured it, or its figures do not settle. What is shown is what is usual in print, drawn towards his own ejaculates.

## Signals in words
signal-counted =
    { $n ->
        [one] Told after one ejaculate.
       *[other] Told after { $n } ejaculates.
    }
signal-speaks = What is otherwise since then:
signal-herds = The whole herd fell in those days, so this is not his alone.
signal-no-reason = Nothing in the log is otherwise since then. Look at the boar, his feet and his feed.
signal-no-proof = This is a hint where to look first, not a proof. The veterinarian decides on illness.
signal-shares = { $during } of { $fallen } since then, { $before } of { $earlier } before.
signal-entries = Entries of { $days }
signal-which-cause = What was the cause?
signal-words = In your own words
signal-words-why = Only if there is more to say.

## Watch
watch-none = Nobody fell
watch-none-why = No boar fell short of what was expected by more than chance brings about.
watch-answered-all = All answered
watch-answered-all-why = What fell was answered, and stands below until it is back. Keep an eye on it.
watch-failed =
    { $n ->
        [one] What one boar gives cannot be worked out: what the office worked out does not fit the program on this phone.
       *[other] What { $n } boars give cannot be worked out: what the office worked out does not fit the program on this phone.
    }
watch-nothing = Nothing to compare
watch-nothing-why = Nothing was collected yet. A fall shows once ejaculates were measured.
watch-some =
    { $n ->
        [one] One signal
       *[other] { $n } signals
    }
watch-some-why = Look at each, then answer. The oldest fall costs most.
watch-herd-head = The whole herd
watch-herd =
    { $boars ->
        [one] { $measure }: { $worse } of one boar gave worse than expected in { $days } days.
       *[other] { $measure }: { $worse } of { $boars } boars gave worse than expected in { $days } days.
    }
watch-herd-heat = Hot days lie three to six weeks back: expect it to pass, and cool the rooms.
watch-herd-bench = That points to the bench, not to each boar. Count one sample twice, warm the stage, test extender and thermometer.
watch-with-herd = Fell with the whole herd
watch-open = Not answered
watch-answered = Answered
watch-how = A signal compares each ejaculate with what a rested boar in the cool would have given, and adds up what falls short. A sound boar is called about once in a hundred collections, by one or another of the four measures: where most boars are sound, many calls are false. Look before you act.

## Life
life = His life
life-until = until { $day }

## Boars side by side
compare-why = What is each boar's own, beside age, rest, season and heat.
compare-none = No boars here yet.
compare-sort = Which first?
compare-boar = Boar
compare-sperm = Sperm
compare-motile = Motility
compare-danger = Danger
compare-lame = Lame
compare-sows = Sows back
compare-age = Months
compare-collections = Collections
compare-few = too few
compare-alike = alike
compare-points = { $n } pts
compare-of = { $n } of { $all }
compare-at-least = { $n } or more
compare-legend = Sperm and motility: a figure stands where nine of ten bounds keep to that side of the herd, with five counted ejaculates or more. "alike": no difference that can be told. "too few": too few to say. Danger: bites, charges, persons hurt. Sows back: in heat again, of those only he served; "not known" where the log has none.
compare-look = Look at for replacement
compare-look-none = Nothing in the log speaks for replacing a boar.
compare-look-why = A tap leads to taking him off, with the reason. It is a hint: people decide, and on illness the veterinarian. His age alone is no reason here.
compare-leaves = To be culled already
speaks-output = { $n } % less sperm than the herd
speaks-quality = { $n } points less motility than the herd
speaks-temper =
    { $n ->
        [one] once a danger to people
       *[other] { $n } times a danger to people
    }
speaks-legs = lame { $n } times
speaks-fertility = { $n } of { $all } sows came back in heat
