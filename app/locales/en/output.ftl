# What a boar gives. Barn screens.

gives-volume = Volume
gives-total = Total sperm
gives-motile = Motility
gives-abnormal = Abnormal
output-less = { $n } % less than expected
output-more = { $n } % more than expected
output-lower = lower than expected
output-higher = higher than expected
output-of-expected = { $seen }, expected { $range }
output-signal = { $measure }: { $change } since { $day }
output-signal-herds = The whole herd fell in those days: look at that first.
output-signal-look = Look at what he gives, and answer.
output-page = What he gives
more-watch = Whose output fell

## Heat
more-extender = Extender
more-climate = How warm it is
more-instruments = Instruments
heat-lower = Expect lower quality from { $from } to { $to }.
heat-cool = Cool { $room } now: { $air } °C.
more-compare = Boars side by side
