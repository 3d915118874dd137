/** Words with a meaning of their own inside the program, whatever the exports call them. */

/** The failure mode that the wear limits are about. */
export const WEAR_MODE = "wear";
/** The cause group of removals that are no failures. */
export const NOT_A_FAILURE = "not a failure";
/** What an environment, standard or failure mode is called where its recorded word is unknown or missing. */
export const UNASSIGNED = "unassigned";
/** The standard of every component in a fleet whose exports record none. */
export const SINGLE_STANDARD = "as fitted";
