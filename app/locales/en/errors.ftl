### What is said when something cannot be taken. Words come with their screens.

save-not-here = this page is for reading. Open the farm's https address, or localhost on the office machine.
save-quota-full = the phone is full. Free some space, then tap again; what you entered is still on the screen.
save-no-farm = this phone does not know its farm yet. Connect it to the office once.
save-storage = the browser's store failed ({ $detail }). Tap again; what you entered is still on the screen.
office-not-reached = The office is not reached. This needs a connection; what you logged is safe on this phone.
office-says = The office says: { $why }
text-length = { $chars } characters; from { $low } to { $high } are taken.
