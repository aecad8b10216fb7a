### Lo que se dice cuando algo no se puede aceptar.
