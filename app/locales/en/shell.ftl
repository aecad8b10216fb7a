### What every screen uses: places, states of a record, undo, days, units.


place-boar = This boar
place-today = Today
place-bench = Bench
place-more = More
place-nav = Places

save = Save
saving = Being saved: wait
yes = Yes
no = No
not-measured = not measured
not-answered = not answered
not-counted = not counted
not-known = not known
ask-how = How?
language-en = English
language-es = Español

undo = Undo

record-on-phone = { $n ->
    [0] All at the office
   *[other] { $n } on this phone
}
record-oldest = oldest { $age }
record-not-accepted = { $n } not accepted, look

keypad-erase = Erase
keypad-bounds = { $low } to { $high } { $unit }
keypad-too-low = { $read } { $unit } was read; the least is { $low } { $unit }.
keypad-too-high = { $read } { $unit } was read; the most is { $high } { $unit }.
keypad-empty = Type a number
keypad-unfinished = A mark was read; add a digit after it or erase it.
stepper-less = Less
stepper-more = More


date-today = today
date-yesterday = yesterday
date-tomorrow = tomorrow
date-on = { $day }
date-day-month = { $day } { $month }
date-weekday-day-month = { $weekday } { $date }
date-day-month-year = { $date } { $year }

span-days = { $n ->
    [one] { $n } day
   *[other] { $n } days
}
span-hours = { $n } h
span-minutes = { $n } min
span-under-a-minute = less than 1 min

day-monday = Monday
day-tuesday = Tuesday
day-wednesday = Wednesday
day-thursday = Thursday
day-friday = Friday
day-saturday = Saturday
day-sunday = Sunday

month-january = January
month-february = February
month-march = March
month-april = April
month-may = May
month-june = June
month-july = July
month-august = August
month-september = September
month-october = October
month-november = November
month-december = December

unit-ml = mL
unit-g = g
unit-million-per-ml = M/mL
unit-billion = billion
unit-days = days
unit-percent = %
unit-celsius = °C
unit-squares = squares
unit-sperm = sperm

reading = Reading the barn …
office-full = The office machine's disk is full. What you log is kept on this phone. Make room there; it goes on by itself.
phone-full = This phone is full. What you saved is safe, but news from the office does not fit. Free some space on the phone; it goes on by itself.
office-other-version = The office runs another version of this program. What you log is kept on this phone. Close the app and open it again.
lost = No screen has this address.
elsewhere = Not on this phone yet
elsewhere-why = The screens of bench and office come over the network, soon after the first. Open this page again near the office; what you saved is safe.
scan-title = Scan a pen
scan-asks = If the phone asks, let this page use the camera.
scan-hold = Half a metre from the tag. Wipe dirt off the codes.
scan-foreign = That code is not from a pen tag. Still looking.
scan-type = Type the code
scan-digits = Type the six digits on the tag.
scan-no-code = This is not a tag's code. Erase, and read the tag again.
scan-camera = Camera
scan-again = Try the camera again
scan-no-camera = No picture
scan-refused = This page may not use the camera. Type the code, or allow the camera in the browser's settings.
scan-missing = No camera was found on this device. Type the code.
scan-busy = The camera did not start, or another app took it. Close that app and try again, or type the code.
scan-not-secure = The camera works only at the farm's https address. Open that, or type the code.
scan-not-loaded = The tag reader did not load. Try again near the office, or type the code.
