### How a phone comes in: its own side. The office's side stands with the office.

role-barn = Barn
role-laboratory = Laboratory
role-office = Office
role-barn-may = Collects, makes doses, and looks after boars and sows.
role-laboratory-may = The same at the bench, but holds no sows.
role-office-may = Everything: settings, the log, lists, backups, other phones.

pair-unknown = Not let in yet
pair-this = Pair this phone
pair-refused-here = The office does not know this phone. What you logged is kept here. Pair it.
pair-title = Come in
pair-why = The office lets each phone in once. From then on it logs without a network too.
pair-looking = Looking whether this phone trusts the farm's address …
pair-untrusted = Not trusted yet
pair-untrusted-why = This phone does not trust the farm's certificate.
pair-untrusted-caution = A warning that was tapped away only looks safe: others on the network may read along, and this phone keeps nothing for work without a network.
pair-untrusted-do = The office shows a plain address that begins with http. Open that on this phone: it holds the steps. Install the farm's authority, trust it fully, then come back here. A private window keeps nothing either: use an ordinary one.
pair-look-again = Look again
pair-home-screen = On an iPhone or iPad, first put this page on the Home Screen: tap Share, then Add to Home Screen. Open it from there and pair it there, with the eight digits. The app on the Home Screen keeps records and cookies of its own; what is paired here does not count there.
pair-name = What is this phone called?
pair-name-why = The office looks for this name and says yes to it. { $bounds }
pair-name-offered = Phone { $n }
pair-digits = Type the eight digits that the office shows.
pair-type = Type the digits
pair-ask = Ask to come in
pair-waiting = Wait
pair-waiting-why = Now say yes at the office: it shows this phone's name, { $name }.
pair-refused = Turned away
pair-refused-why = The office said no. Ask there, and begin again with a new code.
pair-over = Over
pair-over-why = Ten minutes passed, or the office was started anew. Let it show a new code.
pair-paired = Paired
pair-paired-why = This phone came in as: { $role }. { $may }
pair-again = Begin again
pair-to-barn = To the barn

owner-is-me = I am the owner
owner-why = With the owner's passphrase this browser becomes an office.
owner-passphrase = The owner's passphrase
owner-passphrase-missing = Type the passphrase first.
owner-browser = What is this browser called?
owner-enter = Enter as the owner
