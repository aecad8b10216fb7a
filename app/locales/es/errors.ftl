### Lo que se dice cuando algo no se puede aceptar.

save-not-here = esta página es para leer. Abra la dirección https de la granja, o localhost en el equipo de la oficina.
save-quota-full = el teléfono está lleno. Libere espacio y toque otra vez; lo escrito sigue en la pantalla.
save-no-farm = este teléfono aún no conoce su granja. Conéctelo una vez a la oficina.
save-storage = falló el almacén del navegador ({ $detail }). Toque otra vez; lo escrito sigue en la pantalla.
office-not-reached = No se alcanza la oficina. Esto necesita conexión; lo anotado está a salvo en este teléfono.
office-says = La oficina dice: { $why }
text-length = { $chars } caracteres; se admiten de { $low } a { $high }.
