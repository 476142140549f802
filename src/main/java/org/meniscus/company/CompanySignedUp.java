package org.meniscus.company;

import org.meniscus.platform.CompanyId;

/**
 * A company has just been set up. Published inside the transaction of the sign-up, in the new company's context: what a listener
 * writes is stored together with the company, or not at all.
 */
public record CompanySignedUp(CompanyId company) {
}
