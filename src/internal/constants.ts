/** Standard acceleration of free fall [m/s²], exact by definition.
 * @source BIPM, The International System of Units, 9th edition 2019 (3rd CGPM, 1901) */
export const standardGravity = 9.80665

/** Standard atmosphere [Pa], exact by definition.
 * @source ISO 2533:1975, Standard atmosphere, sea level */
export const standardAtmosphere = 101325

/** One inch [m], exact by definition.
 * @source International yard and pound agreement, 1959 */
export const inch = 0.0254

/** One micro-inch [m], exact by definition; floor surveys quote micro-inches per second.
 * @source International yard and pound agreement, 1959 */
export const microinch = 2.54e-8

/** Boltzmann constant [J/K], exact by definition.
 * @source BIPM, The International System of Units, 9th edition 2019 */
export const boltzmann = 1.380649e-23

/** Permittivity of vacuum [F/m].
 * @source CODATA 2022 */
export const vacuumPermittivity = 8.8541878188e-12
