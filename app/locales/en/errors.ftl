### What is said when something cannot be taken. Words come with their screens.

save-not-here = this page is for reading. Open the farm's https address, or localhost on the office machine.
save-quota-full = the phone is full. Free some space, then tap again; what you entered is still on the screen.
save-no-farm = this phone does not know its farm yet. Connect it to the office once.
save-storage = the browser's store failed ({ $detail }). Tap again; what you entered is still on the screen.
office-not-reached = The office is not reached. This needs a connection; what you logged is safe on this phone.
office-says = The office says: { $why }
refused-failed = The office failed at this; nothing was half written. Try again, and look at the office machine.
refused-busy = The office is busy. Try again in a moment.
refused-not-allowed = This phone was not let in for that. At the office let it in again with more.
refused-too-many = Too many wrong guesses: wait a few minutes. At the office machine itself it is open all the time.
refused-too-large = It is larger than is taken at once: 20 MB. Split it, and bring in the parts one after another.
refused-nobody-waits = Nobody waits there any more: show a new code.
refused-code = That opens nothing. After five wrong codes or ten minutes the office must show a new one.
refused-owner = This is not the owner’s passphrase. “pentally owner” on the office machine sets another.
refused-name-long = This name is too long for the code on a tag. Take a shorter one.
refused-name = No phone finds a machine by that name. Take letters, digits and dashes that end in .local, .lan, .home, .internal or .home.arpa, such as barn.local; or a private address of this machine.
text-length = { $chars } characters; from { $low } to { $high } are taken.
