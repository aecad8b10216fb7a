### La hoja impresa de etiquetas de corral.

sheet-title = Etiquetas de corral
sheet-pen = Corral
sheet-trial = PRUEBA
sheet-trial-why = Aún no se ha elegido la dirección a la que llevan estas etiquetas. Imprímalas para probar y otra vez cuando esté elegida.
sheet-how = Imprima al 100 %, sin ajustar a la página.
sheet-ruler = Esta línea mide 100 mm. Mídala antes de cortar.
sheet-empty = Ningún corral tiene etiqueta todavía. Cree primero un corral.
