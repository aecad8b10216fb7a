steps-title = El establo de esta granja, en este teléfono
steps-why = Los teléfonos guardan registros sin red solo desde una dirección protegida. Son tres pasos, una vez por teléfono. Hágalos en la Wi-Fi de la granja.
steps-android = Teléfonos Android
steps-android-1 = Toque «El certificado de la granja» abajo y deje que se guarde.
steps-android-2 = Abra Ajustes, busque «certificado de CA», toque Instalar de todos modos y elija el archivo guardado.
steps-android-3 = El teléfono avisa de que la red puede ser vigilada. Lo dice de todo certificado que una granja hace ella misma; este solo responde por direcciones privadas y nombres locales.
steps-iphone = iPhone y iPad (Apple)
steps-iphone-1 = Toque «El certificado de la granja» abajo en Safari y permita el perfil.
steps-iphone-2 = Abra Ajustes, toque «Perfil descargado» arriba e Instalar.
steps-iphone-3 = Después Ajustes, General, Información, Ajustes de certificados de confianza: active la confianza total en la autoridad de la granja. Sin este paso nada funciona.
steps-certificate = El certificado de la granja
steps-compare = Compare con la pantalla de la oficina antes de instalarlo:
steps-then = Después abra el establo
steps-check = Si la página se abre sin aviso, este teléfono está listo para emparejarse. Si avisa, no pase de largo: mire los pasos otra vez.
steps-own = Esta granja tiene un certificado propio que los teléfonos ya conocen. Abra el establo:

### El calendario
coming-collection = Extraer a { $boar }
coming-late =
    { $n ->
        [one] Extraer a { $boar }, un día de atraso
       *[other] Extraer a { $boar }, { $n } días de atraso
    }
coming-off = Verraco { $boar }, fuera de extracción: { $reason }
coming-fever = Verraco { $boar }: vigilado por posibles daños tras la fiebre
coming-return = Cerda { $sow }: mire si repite
coming-farrowing = Parto de la cerda { $sow }
