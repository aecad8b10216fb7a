### Lo que se dice cuando algo no se puede aceptar.

save-not-here = esta página es para leer. Abra la dirección https de la granja, o localhost en el equipo de la oficina.
save-quota-full = el teléfono está lleno. Libere espacio y toque otra vez; lo escrito sigue en la pantalla.
save-no-farm = este teléfono aún no conoce su granja. Conéctelo una vez a la oficina.
save-storage = falló el almacén del navegador ({ $detail }). Toque otra vez; lo escrito sigue en la pantalla.
office-not-reached = No se alcanza la oficina. Esto necesita conexión; lo anotado está a salvo en este teléfono.
office-says = La oficina dice: { $why }
refused-failed = La oficina falló en esto; nada quedó a medias. Pruebe otra vez y mire la máquina de la oficina.
refused-busy = La oficina está ocupada. Pruebe otra vez en un momento.
refused-not-allowed = A este teléfono no se le dejó entrar para eso. En la oficina, déjelo entrar otra vez con más permisos.
refused-too-many = Demasiados intentos fallidos: espere unos minutos. En la propia máquina de la oficina está abierto siempre.
refused-too-large = Es mayor de lo que se admite de una vez: 20 MB. Divídalo y traiga las partes una tras otra.
refused-nobody-waits = Ahí ya no espera nadie: muestre un código nuevo.
refused-code = Eso no abre nada. Tras cinco códigos erróneos o diez minutos, la oficina debe mostrar uno nuevo.
refused-owner = Esta no es la contraseña del dueño. «pentally owner» en la máquina de la oficina pone otra.
refused-name-long = Este nombre es demasiado largo para el código de una etiqueta. Tome otro más corto.
refused-name = Con ese nombre ningún teléfono encuentra la máquina. Use letras, cifras y guiones que acaben en .local, .lan, .home, .internal o .home.arpa, como granja.local; o una dirección privada de esta máquina.
text-length = { $chars } caracteres; se admiten de { $low } a { $high }.
