steps-title = This farm's barn, on this phone
steps-why = Phones keep records safe without a network only over a protected address. Three steps, once for each phone. Do them on the farm's own Wi-Fi.
steps-android = Android
steps-android-1 = Tap "The farm's certificate" below and let it be saved.
steps-android-2 = Open Settings, look for "CA certificate", tap Install anyway, and choose the file that was saved.
steps-android-3 = The phone warns that the network may be watched. It says so of every certificate that a farm makes itself; this one vouches for private addresses and local names only.
steps-iphone = iPhone and iPad
steps-iphone-1 = Tap "The farm's certificate" below in Safari and allow the profile.
steps-iphone-2 = Open Settings, tap "Profile Downloaded" at the top, and Install.
steps-iphone-3 = Then Settings, General, About, Certificate Trust Settings: switch on full trust for the farm's authority. Without this step nothing works.
steps-certificate = The farm's certificate
steps-compare = Compare with the office's screen before you install it:
steps-then = Then open the barn
steps-check = If the page opens without a warning, this phone is ready to be paired. If it warns, do not go past the warning: look at the steps again.
steps-own = This farm has a certificate of its own that phones know already. Open the barn:

### The calendar's feed
coming-collection = Collect { $boar }
coming-late =
    { $n ->
        [one] Collect { $boar }, one day late
       *[other] Collect { $boar }, { $n } days late
    }
coming-off = Boar { $boar } is off collection: { $reason }
coming-fever = Boar { $boar }: watched for harm after fever
coming-return = Sow { $sow }: look for a return
coming-farrowing = Sow { $sow } farrows
