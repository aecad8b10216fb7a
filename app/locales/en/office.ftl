### The office. Words come with its screens.

## Fields of office forms
field-may-stay-empty = May stay empty.
field-not-a-day = No whole date was read; write day, month and year.
field-future = { $read } was read; that is after today, { $today }.
field-from-to = { $low } to { $high } { $unit }.
field-empty = Nothing was read; type { $low } to { $high } { $unit }.
field-no-figure = “{ $read }” was read; type a figure from { $low } to { $high } { $unit }.
field-outside = { $read } { $unit } was read; { $low } to { $high } { $unit } is taken.
field-not-whole = { $read } was read; whole { $unit } are taken, { $low } to { $high }.

## Boars
boars-number = Number
boars-name = Name
boars-born = Born
boars-born-why = Without it nobody can say whether he is old enough.
boars-line = Breed or line
boars-ear = Ear tag or notch
boars-ear-why = By which he is known outside his pen.
boars-mind = What to mind
boars-mind-why = Bites, charges, a bad leg: shown to whoever goes in.
boars-worked = Did he work before today?
boars-worked-unknown = Nobody knows
boars-worked-not-yet = Not yet
boars-worked-on = Yes, last on a day
boars-last = Last collected or served
boars-apart = Did he arrive today?
boars-apart-why = Then he is kept apart till { $day }: nobody trains or collects him before. Local rules and the veterinarian come first.
boars-pen = Pen
boars-old = He would be { $n } years old. Save again if it is right.
boars-twice = Another boar has this number. Save again to keep both.
boars-before-birth = { $read } was read; that is before he was born.

## Pens and tags

## Sows

## Log
log-why = What this phone holds, newest first.
log-kind = Kind
log-boar = Boar
log-person = Person
log-unsent = Only what is not at the office yet
log-all = All
log-none = Nothing fits.
log-more = { $n } more
log-taken-back = taken back
log-take-back = Take back
log-bring-back = Bring back
log-standard =
    rest { $days ->
        [one] { $days } day
       *[other] { $days } days
    }, motility from { $motility } %
log-batch = { $code }, { $n ->
    [one] { $n } dose
   *[other] { $n } doses
}
log-moved = { $boar } to pen { $pen }
log-gone = { $boar } left the farm
log-out = { $boar } out of the pens
log-motile = motile
log-abnormal = abnormal
log-newer = Made by a newer version: { $kind } { $version }
log-newer-ask = Look for records of a newer version
log-newer-none = None among the last thousand at the office.
kind-farm = Farm settings
kind-person = Person
kind-standard = Farm standard
kind-same-as = Same boar
kind-boar = Boar
kind-pen = Pen
kind-pen-tag = Pen tag
kind-move = Move
kind-off = Off collection
kind-on = Back on collection
kind-sow = Sow
kind-heat = Heat
kind-collection = Collection
kind-evaluation = Evaluation
kind-batch = Semen batch
kind-service = Service
kind-training = Training
kind-note = Note
kind-correction = Correction
kind-void = Taken back

## Farm standard
standard-why = These thresholds decide what the screens advise. Sources conflict on most of them; the farm chooses. Doses already made keep the standard they were made under.
standard-defaults = Nobody set one yet: these are the values to start from.
standard-set = Set { $when }
standard-set-by = Set by { $name }, { $when }
standard-save = Save the standard
standard-saved = Saved. It holds from now on.
standard-times = times
standard-rest = Rest between collections
standard-rest-why = Print says 3 to 7; two or less, and more than seven, cost motility.
standard-in-seven = In any seven days, without a reason
standard-in-seven-why = Once or twice a week is usual. Natural services count.
standard-idle = Idle: check before use, after more than
standard-clean-out = Idle: the first is a clean-out, after more than
standard-clean-out-why = Common practice; not below the line above.
standard-idle-order = The clean-out cannot come before the check: give it as many days or more.
standard-young = Too young below an age of
standard-young-why = Many start at 8 to 9 months; what an early start costs is disputed.
standard-repetition = Days of repetition after a first success
standard-repetition-why = Three days running is common; another source rests him a week.
standard-session = Training session at most
standard-session-why = Print says 15 to 20 a day. The page never says so while he is mounted.
standard-session-idle = Training session without interest at most
standard-session-idle-why = Common practice; no printed source.
standard-isolation = Isolation after arrival
standard-isolation-why = At least 30. Local rules and the veterinarian come first.
standard-rhythm = After a first success
standard-rhythm-why = Two rhythms are in print. The days of either need no reason in seven days.
rhythm-days-running = Days running
rhythm-next-day-then-weekly = Next day, rest a week, weekly ×4
standard-motility = Motility at least
standard-motility-why = Above 60. Many farms ask 70; sources conflict above 60.
standard-floor = { $read } % was read. Semen at { $floor } % or below is not used, so the standard lies above { $floor } %.
standard-abnormal = Abnormal at most
standard-abnormal-why = 30 to start from, droplets included.
standard-droplets = Droplets at most
standard-droplets-why = One trial saw no loss at 15 or more, another a break at 11.
standard-gestation = Pregnancy
standard-gestation-why = 114, or 115 in some calendars.
standard-keeps = The extender keeps
standard-keeps-why = Short term 3, medium to 5, long 7 to 10: its label decides.
standard-count-as = What counts towards a dose?
standard-sperm-poor = Does sperm-poor go into the cup here?
standard-antibiotic = Does the extender hold an antibiotic?
standard-antibiotic-why = Then a withdrawal period may bar the served sow from slaughter. Label, veterinarian and local rules decide.
standard-farm = The farm
standard-farm-save = Save the farm
standard-zone = Time zone
standard-zone-why = It cuts the farm's days. It was taken from the machine on which the farm began.
standard-origin = Address printed on tags
standard-origin-why = Chosen once, such as https://barn.example:8420: the address at which every phone reaches the office. Until then tags say TRIAL.
standard-origin-chosen = Chosen. Tags on the gates lead there.
standard-origin-this = Use the address of this page
standard-origin-means = Tags printed before lead to the old address. A phone's own camera will not find the barn with them; only the scanner in this app will. Print and hang all tags anew.
standard-origin-sure = I will print all tags anew
standard-origin-tick = Tick below that all tags will be printed anew, or leave the address as it was.
standard-origin-form = “{ $read }” was read; an address such as https://barn.example:8420 is right, with no path.
standard-origin-own = “{ $read }” is this machine only; no phone finds it. Take the address that phones use.

## People
people-picked = { $name } works with this phone.
people-nobody-picked = Tap who works with this phone.
people-nobody = Nobody
people-works-with-this = works with this phone
people-change = Somebody left, or a name is to go
people-leaves = Left
people-back = Is back
people-has-left = no longer works here
people-erase = Erase name
people-no-name = No name
people-name = Name of somebody who works here
people-add = Add
people-twice = There is a { $name } already. Tap again to add another.
people-why = A name is for picking, not a password. It lies beside the log and can be erased; the records stay.

## Bring in a list
import-why = A CSV file with a line of headings and a line for each boar. Nothing is written before you say so.
import-file = The list
import-file-why = Any delimiter, encoding and date format; up to 20 MB.
import-busy = The office reads the list …
import-look = What would happen
import-count-rows = { $n ->
    [one] { $n } row
   *[other] { $n } rows
}
import-count-new = { $n } new
import-count-pens = { $n ->
    [one] { $n } new pen
   *[other] { $n } new pens
}
import-count-same = { $n } here already
import-count-differs = { $n ->
    [one] { $n } differs
   *[other] { $n } differ
}
import-count-twice = { $n } twice in the list
import-count-refused = { $n } cannot be taken
import-line = Line
import-fate = What becomes of it
import-more = { $n } more rows, not shown.
import-columns = What each column holds
import-not-read = Not read
import-look-again = Look again
import-rfid = Transponder
import-arrived = Arrived
import-no-number = No column names the boar's number. Say below which one does.
import-workbook = This is a spreadsheet's workbook. Save the sheet as CSV there, then choose that file.
import-empty = The file holds no rows.
file-unread = The file does not read: { $detail }
file-rows = The file has more than { $most } rows. Split it, and bring in the parts one after another.
file-columns = Line { $line } has { $n } columns. So many are no table of ours: look at the delimiter.
file-line-long = Line { $line } is too long. Does each row stand on a line of its own?
file-not-text = Line { $line } holds bytes that are no text. Choose a CSV file, in UTF-8, UTF-16 or Windows-1252.
file-encoding = Line { $line } is not { $encoding }. Save the file as UTF-8, then choose it.
file-quote = The quotation mark that opens at line { $line } is never closed. Close it, or take it out.
import-ask-order = Column “{ $column }”: which day is { $read }?
import-ask-mixed = Column “{ $column }” holds both { $one } and { $other }. Which comes first? Rows that do not fit are left out.
import-ask-serials = Column “{ $column }”: is { $read } a spreadsheet's count of days, { $day }?
import-day-first = Day first
import-month-first = Month first
import-answer-first = Answer the question above first.
import-leave-out =
    Leave out { $n ->
        [one] the row
       *[other] the { $n } rows
    } that cannot be taken or stand there twice
import-overwrite =
    Write over what the barn says of { $n ->
        [one] { $n } boar
       *[other] { $n } boars
    }
import-take =
    Bring in { $n ->
        [one] { $n } boar
       *[other] { $n } boars
    }
import-take-changes = Bring in the changes
import-done = { $boars ->
    [one] { $boars } boar
   *[other] { $boars } boars
} and { $pens ->
    [one] { $pens } pen
   *[other] { $pens } pens
} came in; { $changes } corrected.
import-done-nothing = Nothing changed.
import-new = New.
import-same = Here already; nothing changes.
import-differs = Here already, otherwise: { $what }.
import-change = { $field }: { $old } here, { $new } in the list
import-twice = The same as line { $line }; left out.
import-twice-differs = Line { $line } has this number and says something else.
import-waits = Waits for the answer about { $field }.
import-refused = { $field }: “{ $read }” was read; right is { $right }.
import-refused-empty = { $field }: nothing was read; right is { $right }.
import-right-given = something in this cell
import-right-at-most = { $n } characters at most
import-right-one-line = a text on one line
import-right-date = a date that exists, such as 2025-03-24
import-right-not-after = no day after { $day }
import-right-not-before = no day before { $day }
import-right-rfid = 15 digits, as on the transponder
import-right-cells = { $n } cells at most, as many as headings
import-right-other = something else, which a newer office asks for
import-flag-formula = A cell begins like a formula; it was kept as text.
import-flag-damaged = Letters were lost before the file came here.
import-flag-old = He would be { $n } years old.
import-flag-ear = Boar { $number } has the same ear tag.
import-flag-zeros = Differs from { $number } only by leading zeros.
import-flag-test = The transponder is one for tests.
import-flag-gone = He left the farm.

## Backup and this phone
backup-why = The office keeps everything; each phone keeps its own records.
backup-last = Last backup by itself: { $when }, verified. One a day is laid in { $folder } on the office machine.
backup-none-yet = No backup yet. One a day is laid in { $folder } on the office machine.
backup-trouble = No backup can be made. See that its folder is there, may be written to, and that its disk has room. The machine says: { $why }
backup-office = The office's backup
backup-office-why = One file with every record, read back before it counts. Keep it on another disk.
backup-office-take = Make a backup
backup-office-taken = The office makes the file. The browser keeps it with its downloads: look that it is there.
backup-phone = This phone
backup-phone-why = A farm of one phone and no office keeps this file as its backup.
backup-holds = Records held
backup-unsent = Not sent
backup-oldest = Oldest not sent
backup-contact = Office answered
backup-keeps = Browser keeps them
backup-persisted = yes, it promised
backup-not-persisted = no promise
backup-keep = Keep this phone's records as a file
backup-never = never
backup-ago = { $span } ago
backup-devices = All devices
backup-devices-why = As the office last heard of them.
backup-devices-ask = Ask the office
backup-device = Device
backup-last-seen = Last seen
backup-records = Records
backup-lost = Lost
backup-this-one = { $id }, this one

missing-title = What is missing
missing-lost = { $n ->
    [one] { $n } record is lost: no phone holds it any more.
   *[other] { $n } records are lost: no phone holds them any more.
}
missing-awaited = { $n ->
    [one] { $n } device sent later records, but not all before them. Open the app there, near the office.
   *[other] { $n } devices sent later records, but not all before them. Open the app there, near the office.
}
missing-boars = { $n ->
    [one] { $n } boar has records, but who he is was never sent. Enter him anew, then say on the page below that both are the same.
   *[other] { $n } boars have records, but who they are was never sent. Enter each anew, then say on his page below that both are the same.
}
missing-pens = { $n ->
    [one] { $n } pen has records, but no name.
   *[other] { $n } pens have records, but no name.
}
missing-sows = { $n ->
    [one] { $n } sow has records, but no number.
   *[other] { $n } sows have records, but no number.
}
missing-boar = Unknown boar { $n }

## Not accepted
aside-count = { $n ->
    [0] Nothing from this phone.
    [one] { $n } record from this phone.
   *[other] { $n } records from this phone.
}
aside-why = The office keeps such records whole, apart from the log. Nothing is lost; someone should look.
aside-newer = Written by a newer version. It will count once the office's program is as new.
aside-malformed = It does not read as a record: { $detail }
aside-bounds = It says something that cannot be: { $detail }. Enter it again as it was.
aside-body = Its content does not read: { $detail }. Enter it again.
aside-other-farm = It belongs to another farm.
aside-same-id = Another record bears this identity. Both are kept; compare them.
aside-accept = Take it into the log
aside-shut-out = The phone that brought it had been shut out.
aside-same-sequence = This phone seems to have gone back in time: another record has its number. Both are kept; compare them.
aside-office = At the office, from all phones
aside-office-why = This needs a connection.
aside-office-ask = Show the office's list
aside-office-none = The office set nothing aside.
aside-arrived = Arrived { $when }
aside-text = As it came
aside-stored = In the log, but odd: { $id }
aside-thread = It does not follow the record before it on its phone: that phone has two histories.
aside-clock = Its clock ran { $span } ahead.

## Phones let in
phones-why = Each phone is let in once, and can be shut out again.
phones-network-first = Phones cannot reach this machine yet. Put the barn on the farm's network first.
phones-role = What may it do?
phones-role-may = { $role }: { $may }
phones-show = Show a code
phones-scan = Scan this with the phone's camera.
phones-type = Or open { $address } on the phone and type:
phones-left = It stands for { $span } more, and for one phone.
phones-asks = { $name } asks to come in. Is that the phone in front of you?
phones-may = { $name } may come in.
phones-turned-away = { $name } stays out.
phones-over = The code is over. Show a new one.
phones-another = Another code
phones-list = Let in
phones-none = No phone yet.
phones-heard = heard of { $span } ago
phones-never-heard = not heard of yet
phones-unsent = { $n } not sent
phones-shut-out = Shut out
phones-shut-out-sure = Shut { $name } out? What it still sends is set aside for you to judge.
phones-keep = Let it stay
phones-is-out = shut out { $span } ago

## The farm's network
network-why = Phones reach this machine over https, under one name, on the farm's own network. Nothing leaves the farm, and no certificate is bought.
network-phone-steps-why = Open one of these on each new phone first. It holds the steps to trust the farm's authority.
network-name = Name on the farm's network
network-name-why = A name that ends in .local, or a private address of this machine.
network-name-addresses = Where the farm's router does not find .local names, take an address of this machine: { $list }. Have the router keep it the same.
network-name-missing = Type the name first.
network-once = The name is printed on every tag. Choose it once.
network-passphrase-new = A passphrase for the owner
network-passphrase-why = { $low } characters or more. Write it down and keep it away from this machine. “pentally owner” on this machine sets another.
network-passphrase-again = The same once more
network-passphrase-differs = The two are not the same. Type both again.
network-open = Open on the farm's network
network-is-why = Here phones reach the barn.
network-steps = Steps for phones
network-fingerprint = SHA-256 of the farm's authority, to compare by eye with what a phone shows: { $digits }
network-trouble = Phones cannot come in. See that no other program uses the same port, and, with certificates of your own, that both files can be read and go together. It is tried again by itself. The machine says: { $why }
network-another = Choose another name
network-another-why = All tags printed so far lead to the old name, and every phone must pair again.
network-another-sure = I will print all tags anew and pair every phone again
network-another-tick = Tick above that all tags will be printed anew, or leave the name as it is.
network-another-take = Take this name
calendar-title = Calendar of what is coming
calendar-why = Collections due in the next two weeks, times off, returns and farrowings of four months. It is made anew each time a calendar asks.
calendar-how = On this machine, copy this link's address and let your calendar program subscribe to it ("from the internet", "from an address"). On another device a calendar program is not let in; there, open the link in the browser and import the file.

## The coming days
week-why = Who is due, if everybody works on the day he is due.
week-nobody = Nobody is due.
week-late =
    { $n ->
        [one] { $number } (one day late)
       *[other] { $number } ({ $n } days late)
    }
