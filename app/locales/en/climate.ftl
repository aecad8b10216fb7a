# How warm it is where the boars stand. Office screens.

unit-hours = h
standard-points = points
standard-regular = Regular days from one collection to the next
standard-regular-why = In print: rest of 3 to 7 days, or once or twice a week.
standard-regular-young = Regular days of a boar under a year
standard-regular-young-why = Common practice; no printed source.
standard-hot-thi = Hot from this temperature-humidity index on
standard-hot-thi-why = 75 is where “alert” begins. The bands were made for cattle; none made for boars is known to us.
standard-hot-celsius = Hot from this temperature on, without humidity
standard-hot-celsius-why = Above 27 °C for two to four days a herd's reproduction suffers. Trials on boars heated them to 33–38 °C.
standard-hot-hours = A day is hot with so many hot hours
standard-hot-hours-why = Common practice; no printed source.

## Today
heat-hot = Hot
heat-not-hot = Not hot
heat-not-known = Not known
climate-hot-today = Hot today?
climate-nobody = Nobody read it
climate-nobody-why = Read the thermometer between noon and six, or take in the logger's file.
climate-not-known-why = Too little was read to tell: look again between noon and six.
climate-warmest = { $room }, { $when }: { $air }.
climate-degrees = { $air } °C
climate-damp = { $humidity } %, index { $index }: { $band }
climate-cool-how = Fans, open sides, drips or sprinklers on the skin, cool water to drink. Collect in the cool of the morning.
climate-enter = Enter a reading
climate-fresh = Read in the last hours
climate-many =
    { $n ->
        [one] { $room }: one reading of a logger
       *[other] { $room }: { $n } readings of a logger
    }
band-normal = normal
band-alert = alert
band-danger = danger
band-emergency = emergency

## What follows
climate-spells = Hot spells
climate-spell = { $from } to { $to } · hot days: { $hot }
level-tolerated = Under four hot days are tolerated.
level-attention = Lower quality is possible from { $from } to { $to }.
level-expected = Expect lower quality from { $from } to { $to }.

## The last days
climate-last-days = The last days
climate-chart = Highest of each day, { $low } °C at the foot to { $high } °C at the top. Dashed: { $limit } °C. Dots: hot days. A short dash: a day read alone.
climate-day = Day
climate-celsius = °C
climate-index = Index
climate-hours = Hot h
climate-unread = nobody read it
climate-table-why = °C: lowest to highest. Index: the highest, with its band. Hot h: hot hours of hours known.

## How
climate-how = How it is told
climate-limits =
    { $hours ->
        [one] An hour is hot from index { $index } on, or from { $air } °C where humidity was not read. A day is hot with one hot hour, or with one hot reading by hand. The farm standard sets all three.
       *[other] An hour is hot from index { $index } on, or from { $air } °C where humidity was not read. A day is hot with { $hours } hot hours, or with one hot reading by hand. The farm standard sets all three.
    }
climate-bands = The bands (alert from 75, danger from 79, emergency from 84) were made for cattle. No bands made for boars are known to us.
climate-sources = Sperm that were being made on a hot day are collected two to six weeks later. Under four hot days are tolerated, over seven are not (trials at 33–38 °C). Sources conflict on the end: some say seven weeks.

## Entering
climate-which-room = Which room?
climate-room = Room
climate-room-new = Another room
climate-room-name = The room's name
climate-room-take = Take this name
climate-go-on = Go on
climate-stop = Enter nothing
climate-how-warm = How warm?
climate-how-cold = How far below zero?
climate-below-zero = It is below zero
climate-above-zero = It is above zero
climate-unit = { $read }: °C or °F?
climate-unit-why = { $read } °F are { $celsius } °C. Is the thermometer set to °F?
climate-is-f = °F: take { $celsius } °C
climate-is-c = It is { $read } °C
climate-how-damp = How damp?
climate-how-damp-why = Relative humidity, where the thermometer shows it.

## A logger's file
climate-file = From a logger
climate-file-choose = The logger's file
climate-file-why = A CSV file with a line of headings and a line for each reading; up to 20 MB. Nothing is written before you say so; the same file twice changes nothing.
climate-file-busy = The office reads the file …
climate-empty = The file holds no rows. Export the readings anew and choose that file.
climate-too-many-rows = The file has too many rows. Split it, and bring in the parts one after another.
climate-no-temperature = No column names the temperature. Say below which one does.
climate-no-time = No column names the time. Say below which one does.
climate-field-stamp = Date and time
climate-field-date = Date
climate-field-clock = Time of day
climate-field-temperature = Temperature
climate-field-humidity = Humidity
climate-fahrenheit = °F
climate-ask-room = Which room did the logger hang in?
climate-ask-unit = The temperatures run from { $low } to { $high }. Which unit is that?
climate-ask-proportion = Column “{ $column }” never exceeds { $high }. Is 0.65 a humidity of 65 %?
climate-ask-clock = Line { $line } reads { $read }, an hour that the farm's clock skipped. Which clock does the logger follow?
climate-clock-winter = Winter time all year
climate-clock-farm = The farm's clock
climate-room-days =
    { $n ->
        [one] One day, { $from }
       *[other] { $n } days, { $from } to { $to }
    }
climate-fate-new =
    { $n ->
        [one] one day is new
       *[other] { $n } days are new
    }
climate-fate-adds =
    { $n ->
        [one] one day is filled up
       *[other] { $n } days are filled up
    }
climate-fate-same =
    { $n ->
        [one] one day is held already
       *[other] { $n } days are held already
    }
climate-fate-changed =
    { $n ->
        [one] one half hour will read as in the file
       *[other] { $n } half hours will read as in the file
    }
climate-read-rows =
    { $rows ->
        [one] One row was read, { $taken } taken.
       *[other] { $rows } rows were read, { $taken } taken.
    }
climate-read-celsius = Read as °C.
climate-read-fahrenheit = Read as °F, kept as °C.
climate-read-farm-clock = Times are read by the farm's clock.
climate-read-offset = Times are read as { $offset } all year.
climate-odd-blank =
    { $n ->
        [one] One row has no temperature.
       *[other] { $n } rows have no temperature.
    }
climate-odd-doubled =
    { $n ->
        [one] One row stands there twice; left out.
       *[other] { $n } rows stand there twice; left out.
    }
climate-odd-conflicts =
    { $n ->
        [one] One time is there twice and says two things; the later line holds.
       *[other] { $n } times are there twice and say two things; the later line holds.
    }
climate-odd-gaps =
    { $n ->
        [one] One gap without readings.
       *[other] { $n } gaps without readings.
    }
climate-odd-stuck =
    { $n ->
        [one] One value stood still for a day or more: look whether the sensor is stuck. It is taken.
       *[other] { $n } values stood still for a day or more: look whether the sensor is stuck. They are taken.
    }
climate-odd-refused =
    { $n ->
        [one] One cell cannot be taken: line { $lines }.
       *[other] { $n } cells cannot be taken: lines { $lines } …
    }
climate-take =
    { $n ->
        [one] Take in one day
       *[other] Take in { $n } days
    }
climate-nothing-new = All of it is held already: nothing to take in.
climate-taken =
    { $days ->
        [0] Nothing changed.
        [one] One day was taken in, with { $readings } half hours.
       *[other] { $days } days were taken in, with { $readings } half hours.
    }
